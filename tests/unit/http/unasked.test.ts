import 'reflect-metadata';
import { createParamDecorator, type ExecutionContext, Query } from '@nestjs/common';
import { describe, expect, it } from 'vitest';
import { UnaskedGuard } from '../../../apps/api/http/dto/unasked.js';

function contextOf(controller: { prototype: object }, request: object): ExecutionContext {
  return {
    getClass: () => controller,
    getHandler: () => (controller.prototype as { change: unknown }).change,
    switchToHttp: () => ({ getRequest: () => request }),
  } as unknown as ExecutionContext;
}

const asked = { body: undefined, query: { colour: 'green' } };

/** Nest names a parameter of an own decorator by chance, and such a name may begin with the digit of a kind. */
function controllerWithOwnDecorators(count: number) {
  class Controller {
    change(): void {}
  }
  for (let index = 0; index < count; index += 1) {
    createParamDecorator(() => null)()(Controller.prototype, 'change', index);
  }
  return Controller;
}

describe('what a route does not ask for', () => {
  it('is refused, whatever the names are that own decorators got', () => {
    const guard = new UnaskedGuard();
    const controller = controllerWithOwnDecorators(2_000);
    expect(() => guard.canActivate(contextOf(controller, asked))).toThrow();
    expect(() => guard.canActivate(contextOf(controller, { body: { a: 1 }, query: {} }))).toThrow();
  });

  it('is let through where the route asks for it', () => {
    class Controller {
      change(): void {}
    }
    Query()(Controller.prototype, 'change', 0);
    expect(new UnaskedGuard().canActivate(contextOf(Controller, asked))).toBe(true);
  });
});
