import { ValidationPipe, type ValidationError } from '@nestjs/common';
import { type Fault, Problem } from '../problems/catalogue.js';

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
export const bodyValidation = new ValidationPipe({
  transform: true,
  whitelist: true,
  forbidNonWhitelisted: true,
  forbidUnknownValues: true,
  stopAtFirstError: true,
  validationError: { target: false, value: false },
  exceptionFactory: (errors) => new Problem('invalid', undefined, faultsOf(errors)),
});
