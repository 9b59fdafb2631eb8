import { type CanActivate, type ExecutionContext, Injectable } from '@nestjs/common';
import { ROUTE_ARGS_METADATA } from '@nestjs/common/constants.js';
import { RouteParamtypes } from '@nestjs/common/enums/route-paramtypes.enum.js';
import type { FastifyRequest } from 'fastify';
import { invalid } from '../problems/catalogue.js';

/** Refuses a body or a query where the route takes none, as a field is refused that nobody knows. */
@Injectable()
export class UnaskedGuard implements CanActivate {
  private readonly known = new Map<unknown, { body: boolean; query: boolean }>();

  canActivate(context: ExecutionContext): boolean {
    const { body, query } = context.switchToHttp().getRequest<FastifyRequest>();
    const takes = this.takes(context);
    if (!takes.body && body !== undefined) requireNothing(body, 'no body is taken here');
    if (!takes.query) requireNothing(query, 'no query is taken here');
    return true;
  }

  private takes(context: ExecutionContext): { body: boolean; query: boolean } {
    const handler = context.getHandler();
    const known = this.known.get(handler) ?? takesOf(context.getClass(), handler.name);
    this.known.set(handler, known);
    return known;
  }
}

/** `{}` says nothing, and some clients cannot send less. */
function requireNothing(sent: unknown, detail: string): void {
  const nothing =
    typeof sent === 'object' && sent !== null && !Array.isArray(sent) && Object.keys(sent).length === 0;
  if (!nothing) throw invalid('', detail);
}

/** Nest keeps a method's parameters under "kind:position"; those of own decorators begin with chance, digits too. */
function takesOf(controller: object, method: string) {
  const parameters = (Reflect.getMetadata(ROUTE_ARGS_METADATA, controller, method) ?? {}) as object;
  const kinds = new Set(Object.keys(parameters).map((key) => key.split(':', 1)[0]));
  return { body: kinds.has(String(RouteParamtypes.BODY)), query: kinds.has(String(RouteParamtypes.QUERY)) };
}
