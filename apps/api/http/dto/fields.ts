import { applyDecorators } from '@nestjs/common';
import { ApiProperty, type ApiPropertyOptions } from '@nestjs/swagger';
import { Transform, Type } from 'class-transformer';
import {
  ArrayMaxSize,
  ArrayMinSize,
  IsArray,
  IsBoolean,
  IsDefined,
  IsIn,
  IsInt,
  IsNumber,
  IsObject,
  IsOptional,
  IsString,
  isEmail,
  IsUUID,
  Length,
  Matches,
  Max,
  Min,
  ValidateBy,
  ValidateIf,
  ValidateNested,
} from 'class-validator';

/**
 * One decorator a field: what OpenAPI says of it and what is checked are the same line. Every type is stated,
 * since what a compiler would infer differs between compilers.
 */
export interface FieldOptions {
  optional?: boolean;
  /** May be null (answers, and settings that can be cleared). */
  nullable?: boolean;
  description?: string;
  example?: unknown;
}

function field(
  api: ApiPropertyOptions,
  options: FieldOptions,
  checks: PropertyDecorator[],
): PropertyDecorator {
  const documented = {
    ...api,
    required: !options.optional,
    ...(options.nullable ? { nullable: true } : {}),
    ...(options.description ? { description: options.description } : {}),
    ...(options.example === undefined ? {} : { example: options.example }),
  } as ApiPropertyOptions;
  return applyDecorators(ApiProperty(documented), ...absence(options), ...checks);
}

// The first check that fails is the one that is told, in the order in which they stand: that of the type comes first,
// since what is no text at all holds no characters either.
const present = IsDefined({ message: ({ value }) => (value === null ? 'must not be null' : 'is missing') });

/** An optional field is left out, a nullable one is null: one does not stand for the other. */
function absence({ optional, nullable }: FieldOptions): PropertyDecorator[] {
  if (optional && nullable) return [IsOptional()];
  if (optional) return [ValidateIf((_, value) => value !== undefined)];
  return nullable ? [ValidateIf((_, value) => value !== null), present] : [present];
}

// Everything but tab, line feed and carriage return below U+0020, and NUL above all, which text columns refuse;
// and no half of a surrogate pair, which is no character and has no UTF-8.
// eslint-disable-next-line no-control-regex -- naming them is the purpose
export const NO_CONTROL = /^[^\u0000-\u0008\u000b\u000c\u000e-\u001f\p{Cs}]*$/u;

export const ONE_LINE = /^[^\n\r]*$/;

export function Text(
  max: number,
  options: FieldOptions & { min?: number; oneLine?: boolean } = {},
): PropertyDecorator {
  const min = options.min ?? 1;
  const said = min > 0;
  return field(
    { type: String, minLength: min, maxLength: max, ...(said ? { pattern: '\\S' } : {}) },
    options,
    [
      IsString({ message: 'must be text' }),
      Matches(NO_CONTROL, { message: 'holds control characters or broken ones' }),
      ...(said ? [Matches(/^$|\S/, { message: 'must hold more than spaces' })] : []),
      ...(options.oneLine ? [Matches(ONE_LINE, { message: 'must be one line' })] : []),
      Length(min, max, { message: `must be ${min} to ${max} characters long` }),
    ],
  );
}

/** Text of a fixed form, told in words by `form`. */
export function Pattern(pattern: RegExp, form: string, options: FieldOptions = {}): PropertyDecorator {
  return field({ type: String, pattern: pattern.source }, options, [
    IsString({ message: 'must be text' }),
    Matches(pattern, { message: `must be ${form}` }),
  ]);
}

export const MATERIAL_CODE = /^[a-z0-9][a-z0-9-]{0,39}$/;

export function MaterialCode(options: FieldOptions = {}): PropertyDecorator {
  return Pattern(MATERIAL_CODE, 'a material code, such as "food-scraps"', {
    example: 'food-scraps',
    ...options,
  });
}

export const RULE_CODE = /^[a-z0-9][a-z0-9-]{0,59}$/;

export function RuleCode(options: FieldOptions = {}): PropertyDecorator {
  return Pattern(RULE_CODE, 'the code of a process rule, such as "us-503-pfrp-windrow"', {
    example: 'us-503-pfrp-windrow',
    ...options,
  });
}

/** One of a list of sentences: a line that holds more than spaces. */
export const SENTENCE = /^(?=.*\S)[^\p{Cc}\p{Cs}]{1,400}$/u;

/** The library throws at half a character, and takes its time over what is far too long. */
const isAddress = (value: unknown) =>
  typeof value === 'string' && value.length <= 254 && NO_CONTROL.test(value) && isEmail(value);

export function Email(options: FieldOptions = {}): PropertyDecorator {
  return field({ type: String, format: 'email', maxLength: 254 }, options, [
    ValidateBy(
      { name: 'email', validator: { validate: isAddress } },
      { message: 'must be an e-mail address' },
    ),
  ]);
}

export function Uuid(options: FieldOptions = {}): PropertyDecorator {
  return field({ type: String, format: 'uuid' }, options, [IsUUID('all', { message: 'must be a UUID' })]);
}

export function OneOf(values: readonly string[], options: FieldOptions = {}): PropertyDecorator {
  return field({ type: String, enum: [...values] }, options, [
    IsIn([...values], { message: `must be one of ${values.join(', ')}` }),
  ]);
}

export function Flag(options: FieldOptions = {}): PropertyDecorator {
  return field({ type: Boolean }, options, [IsBoolean({ message: 'must be true or false' })]);
}

export function Whole(min: number, max: number, options: FieldOptions = {}): PropertyDecorator {
  const range = `must be a whole number from ${min} to ${max}`;
  return field({ type: 'integer', minimum: min, maximum: max }, options, [
    Max(max, { message: range }),
    Min(min, { message: range }),
    IsInt({ message: range }),
  ]);
}

/** The same where it comes as text, in a query. */
export function WholeInQuery(min: number, max: number, options: FieldOptions = {}): PropertyDecorator {
  const numberOf = (value: unknown) =>
    typeof value === 'string' && /^\d{1,10}$/.test(value) ? +value : value;
  return applyDecorators(
    Transform(({ value }: { value: unknown }) => numberOf(value)),
    Whole(min, max, options),
  );
}

export function Num(min: number, max: number, options: FieldOptions = {}): PropertyDecorator {
  const range = `must be a number from ${min} to ${max}`;
  return field({ type: Number, minimum: min, maximum: max }, options, [
    Max(max, { message: range }),
    Min(min, { message: range }),
    IsNumber({ allowInfinity: false, allowNaN: false }, { message: range }),
  ]);
}

/** The same where it comes as text, in a query: written out, such as 0.25. */
export function NumInQuery(min: number, max: number, options: FieldOptions = {}): PropertyDecorator {
  const numberOf = (value: unknown) =>
    typeof value === 'string' && /^\d{1,15}(\.\d{1,15})?$/.test(value) ? Number(value) : value;
  return applyDecorators(
    Transform(({ value }: { value: unknown }) => numberOf(value)),
    Num(min, max, options),
  );
}

export const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,9})?)?(Z|[+-]\d{2}:\d{2})$/;

/** RFC 3339 with an offset: a time without one is nobody's time. The calendar itself is checked by `instantMs`. */
export function Instant(options: FieldOptions = {}): PropertyDecorator {
  return field({ type: String, format: 'date-time' }, { example: '2026-05-02T09:30:00-06:00', ...options }, [
    Matches(INSTANT, { message: 'must be a time with its offset, such as 2026-05-02T09:30:00-06:00' }),
  ]);
}

/** From 1900 on: what is written of an earlier year is a slip. The calendar itself is checked where it is read. */
export function LocalDate(options: FieldOptions = {}): PropertyDecorator {
  return field({ type: String, format: 'date' }, { example: '2026-05-02', ...options }, [
    Matches(/^(19|[2-9]\d)\d\d-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/, {
      message: 'must be a date, such as 2026-05-02',
    }),
  ]);
}

// Nest takes a function for one that answers a class only where it is itself called `type`: hence `type: () => type()`.
type Class = new () => object;

export function Nested(type: () => Class, options: FieldOptions = {}): PropertyDecorator {
  return field({ type: () => type() }, options, [
    Type(type),
    ValidateNested({ message: 'must be an object' }),
    IsObject({ message: 'must be an object' }),
  ]);
}

export function ListOf(
  type: () => Class,
  max: number,
  options: FieldOptions & { min?: number } = {},
): PropertyDecorator {
  const size = { ...(options.min ? { minItems: options.min } : {}), maxItems: max };
  return field({ type: () => type(), isArray: true, ...size }, options, [
    Type(type),
    IsArray({ message: 'must be a list' }),
    ArrayMinSize(options.min ?? 0, { message: `must hold at least ${options.min ?? 0}` }),
    ArrayMaxSize(max, { message: `must hold at most ${max}` }),
    // The check below looks into lists within the list, and finds nothing amiss with an empty one.
    IsObject({ each: true, message: 'must be a list of objects' }),
    ValidateNested({ each: true, message: 'must be a list of objects' }),
  ]);
}

/** A list of codes or of ids. */
export function TextList(
  pattern: RegExp,
  max: number,
  options: FieldOptions & { values?: readonly string[] } = {},
): PropertyDecorator {
  const items = {
    type: 'string',
    ...(options.values ? { enum: [...options.values] } : { pattern: pattern.source }),
  };
  return field({ type: 'array', items, maxItems: max }, options, [
    IsArray({ message: 'must be a list' }),
    ArrayMaxSize(max, { message: `must hold at most ${max}` }),
    Matches(pattern, { each: true, message: 'each must be of the form that is documented' }),
    ...(options.values
      ? [
          IsIn([...options.values], {
            each: true,
            message: `each must be one of ${options.values.join(', ')}`,
          }),
        ]
      : []),
  ]);
}

/** A list of whole numbers. */
export function WholeList(
  min: number,
  max: number,
  most: number,
  options: FieldOptions = {},
): PropertyDecorator {
  const items = { type: 'integer', minimum: min, maximum: max };
  const each = { each: true, message: `each must be a whole number from ${min} to ${max}` };
  return field({ type: 'array', items, maxItems: most }, options, [
    IsArray({ message: 'must be a list' }),
    ArrayMaxSize(most, { message: `must hold at most ${most}` }),
    IsInt(each),
    Min(min, each),
    Max(max, each),
  ]);
}

/** Anything JSON: answers only. */
export function Json(options: FieldOptions = {}): PropertyDecorator {
  return field({ type: 'object', additionalProperties: true }, options, [IsOptional()]);
}
