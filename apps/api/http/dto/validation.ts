import { type ArgumentMetadata, Injectable, type PipeTransform, type Type } from '@nestjs/common';
import { plainToInstance } from 'class-transformer';
import {
  getMetadataStorage,
  type ValidationError,
  validateSync,
  type ValidatorOptions,
} from 'class-validator';
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

// The validator gathers the rules of a class anew for every object, asking of all classes of the program whether it
// extends them, and groups them by field. They are the same each time, and this was most of what validation took.
const storage = getMetadataStorage();
const gather = storage.getTargetValidationMetadatas.bind(storage);
const gathered = new Map<unknown, ReturnType<typeof gather>>();
storage.getTargetValidationMetadatas = (target, ...options) => {
  const known = gathered.get(target) ?? gather(target, ...options);
  gathered.set(target, known);
  return known;
};

const group = storage.groupByPropertyName.bind(storage);
const grouped = new WeakMap<object, ReturnType<typeof group>>();
storage.groupByPropertyName = (rulesOfClass) => {
  const known = grouped.get(rulesOfClass) ?? group(rulesOfClass);
  grouped.set(rulesOfClass, known);
  return known;
};

const DEEPEST = 20;
const isObject = (value: unknown): value is object => typeof value === 'object' && value !== null;

/** What the libraries below would stumble over: they recurse a level at a time, and look names up on prototypes. */
function requirePlain(value: unknown, depth = 0): void {
  if (!isObject(value)) return;
  if (depth > DEEPEST) throw invalid('', 'is nested too deep');
  for (const name of Array.isArray(value) ? [] : Object.keys(value)) {
    if (name in Object.prototype) throw invalid('', `"${name}" is not a field of this`);
  }
  for (const inner of Object.values(value)) requirePlain(inner, depth + 1);
}

/** The value as its class, or every fault of it. */
export function readAs<T extends object>(type: Type<T>, value: unknown): T {
  if (!isObject(value) || Array.isArray(value)) throw invalid('', 'must be an object');
  requirePlain(value);
  const read = plainToInstance(type, value);
  const errors = validateSync(read, rules);
  if (errors.length > 0) throw new Problem('invalid', undefined, faultsOf(errors));
  return read;
}

const builtIn = new Set<unknown>([String, Number, Boolean, Array, Object, undefined]);

/** Reads every body and query as the class that its route declares. */
@Injectable()
export class ReadingPipe implements PipeTransform {
  transform(value: unknown, { type, metatype }: ArgumentMetadata): unknown {
    if (type === 'custom' || !metatype || builtIn.has(metatype)) return value;
    return readAs(metatype as Type<object>, value === undefined ? {} : value);
  }
}
