import { createParamDecorator, type ExecutionContext, SetMetadata } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import type { Actor, SiteRole } from './actor.js';
import type { Device } from './device.js';

/** Things that belong to one site, by which a route's scope is found. */
export const ownedKinds = [
  'batch',
  'complaint',
  'container',
  'device-key',
  'distribution',
  'drop-off',
  'haul',
  'incoming-haul',
  'instrument',
  'material-measurement',
  'permit',
  'recipe',
  'refusal',
  'shift',
  'stock-count',
] as const;
export type OwnedKind = (typeof ownedKinds)[number];

/** Where a route acts, found from the request before anything else is read of it. */
export type Scope =
  /** The whole programme: a grant that is not bound to a site. */
  | { at: 'programme' }
  /** The role at any site; the service filters rows by `actor.sitesFor(role)`. */
  | { at: 'own-sites' }
  /** The site named by a UUID in the body or the path. */
  | { at: 'site'; in: 'body' | 'params'; field: string }
  /** The site of the thing whose id is in the path. */
  | { at: 'thing'; kind: OwnedKind; param: string };

export type AccessRule =
  | { kind: 'public' }
  /** Anybody signed in, whatever their role; the service decides on rows. */
  | { kind: 'signed-in' }
  /** A device with its key, and nobody else; the service looks whether the thing is its own to tell of. */
  | { kind: 'device' }
  /**
   * The coordinator, and the municipal reader of a jurisdiction. With `param`, the report whose id is in the path must be of
   * it; without, the service filters rows by `actor.jurisdictionsRead()`. No other route knows readers.
   */
  | { kind: 'reader'; param: string | null }
  | { kind: 'role'; role: SiteRole; scope: Scope };

export const ACCESS = 'heapwright:access';

export const Public = () => SetMetadata(ACCESS, { kind: 'public' } satisfies AccessRule);
export const SignedIn = () => SetMetadata(ACCESS, { kind: 'signed-in' } satisfies AccessRule);
export const AllowDevice = () => SetMetadata(ACCESS, { kind: 'device' } satisfies AccessRule);

/** A route of what is issued to jurisdictions: of every one of the asker's, or of the report that the path names. */
export const AllowReader = (param: string | null = null) =>
  SetMetadata(ACCESS, { kind: 'reader', param } satisfies AccessRule);

/** The role a route needs and where: `@Allow('operator', at.thing('batch'))`. A route without one is refused. */
export const Allow = (role: SiteRole, scope: Scope) =>
  SetMetadata(ACCESS, { kind: 'role', role, scope } satisfies AccessRule);

export const at = {
  programme: (): Scope => ({ at: 'programme' }),
  ownSites: (): Scope => ({ at: 'own-sites' }),
  site: (where: 'body' | 'params' = 'body'): Scope => ({
    at: 'site',
    in: where,
    field: where === 'params' ? 'id' : 'siteId',
  }),
  thing: (kind: OwnedKind, param = 'id'): Scope => ({ at: 'thing', kind, param }),
};

export interface SignedInRequest extends FastifyRequest {
  actor?: Actor;
  device?: Device;
}

/** Who asks. Only on routes that are of people. */
export const Asker = createParamDecorator((_: unknown, context: ExecutionContext): Actor => {
  const { actor } = context.switchToHttp().getRequest<SignedInRequest>();
  if (!actor) throw new Error('this route has no actor');
  return actor;
});

/** Which device asks. Only on routes that are of devices. */
export const AskingDevice = createParamDecorator((_: unknown, context: ExecutionContext): Device => {
  const { device } = context.switchToHttp().getRequest<SignedInRequest>();
  if (!device) throw new Error('this route has no device');
  return device;
});
