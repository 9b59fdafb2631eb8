import { type ArgumentMetadata, ValidationPipe, type ValidationError } from '@nestjs/common';
import { plainToInstance } from 'class-transformer';
import { validateSync, type ValidatorOptions } from 'class-validator';
import { type Fault, invalid, Problem } from '../problems/catalogue.js';

const escaped = (token: string) => token.replaceAll('~', '~0').replaceAll('/', '~1');

/** Every fault of a body, each at its JSON Pointer. */
export function faultsOf(errors: readonly ValidationError[], parent = ''): Fault[] {
  return errors.flatMap((error) => {
    const pointer = `${parent}/${escaped(error.property)}`;
    const own = Object.values(error.constraints ?? {}).map((detail) => ({ pointer, detail: plain(detail) }));
    return [...own, ...faultsOf(error.children ?? [], pointer)];
  });
}

function plain(detail: string): string {
  const unknown = /^property (.+) should not exist$/.exec(detail);
  return unknown ? `"${unknown[1] ?? ''}" is not a field of this` : detail;
}

/** Bodies hold only what their class declares; nothing is converted on the quiet. */
const rules = {
  whitelist: true,
  forbidNonWhitelisted: true,
  forbidUnknownValues: true,
  stopAtFirstError: true,
  validationError: { target: false, value: false },
} as const satisfies ValidatorOptions;

const refused = (errors: readonly ValidationError[]) => new Problem('invalid', undefined, faultsOf(errors));

const DEEPEST = 20;
const isObject = (value: unknown): value is object => typeof value === 'object' && value !== null;

/** What the transformer would stumble over: it recurses a level at a time, and takes `constructor` for a class. */
function requirePlain(body: unknown): void {
  let level = [body].filter(isObject);
  for (let depth = 0; level.length > 0; depth += 1) {
    if (depth > DEEPEST) throw invalid('', 'is nested too deep');
    if (level.some((object) => Object.hasOwn(object, 'constructor'))) {
      throw invalid('', '"constructor" is not a field of this');
    }
    level = level.flatMap((object) => Object.values(object) as unknown[]).filter(isObject);
  }
}

class BodyPipe extends ValidationPipe {
  override async transform(value: unknown, metadata: ArgumentMetadata): Promise<unknown> {
    if (metadata.type === 'body') requirePlain(value);
    return super.transform(value, metadata) as Promise<unknown>;
  }
}

export const bodyValidation = new BodyPipe({ ...rules, transform: true, exceptionFactory: refused });

/** One item of a list whose items are accepted or refused one by one. */
export function readItem<T extends object>(type: new () => T, item: unknown): T {
  if (!isObject(item) || Array.isArray(item)) throw invalid('', 'must be an object');
  const read = plainToInstance(type, item);
  const errors = validateSync(read, rules);
  if (errors.length > 0) throw refused(errors);
  return read;
}
