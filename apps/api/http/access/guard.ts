import { type CanActivate, type ExecutionContext, Injectable } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import { isUUID } from 'class-validator';
import { invalid, notFound, Problem } from '../problems/catalogue.js';
import { ACCESS, type AccessRule, type Scope, type SignedInRequest } from './access.js';
import type { Actor, SiteRole } from './actor.js';
import { Authenticator, tokenOf } from './authenticator.js';
import { type Device, DeviceAuthenticator, isDeviceKey } from './device.js';
import { ScopeRecords } from './scope.records.js';

/** Refuses by default: a route says whom it lets in, or lets in nobody. */
@Injectable()
export class AccessGuard implements CanActivate {
  constructor(
    private readonly reflector: Reflector,
    private readonly authenticator: Authenticator,
    private readonly devices: DeviceAuthenticator,
    private readonly scopes: ScopeRecords,
  ) {}

  async canActivate(context: ExecutionContext): Promise<boolean> {
    const rule = this.reflector.getAllAndOverride<AccessRule | undefined>(ACCESS, [
      context.getHandler(),
      context.getClass(),
    ]);
    if (!rule) throw new Problem('not-allowed', 'This route lets nobody in.');
    if (rule.kind === 'public') return true;
    const request = context.switchToHttp().getRequest<SignedInRequest>();
    const asker = await this.askerOf(request);
    Object.assign(request, asker);
    if (rule.kind === 'device') {
      if (!asker.device) throw new Problem('not-allowed', 'Only a device sends this, with its key.');
      return true;
    }
    if (!asker.actor) throw new Problem('not-allowed', 'The key of a device opens nothing else.');
    if (rule.kind === 'role') await this.requireRole(asker.actor, rule.role, rule.scope, request);
    if (rule.kind === 'reader') await this.requireReader(asker.actor, rule.param, request);
    return true;
  }

  private async askerOf(request: SignedInRequest): Promise<{ actor?: Actor; device?: Device }> {
    const token = tokenOf(request);
    if (token !== null && isDeviceKey(token)) {
      const device = await this.devices.deviceOf(token);
      if (device) return { device };
    } else if (token !== null) {
      const actor = await this.authenticator.actorOf(token);
      if (actor) return { actor };
    }
    throw new Problem('not-signed-in');
  }

  private async requireRole(
    actor: Actor,
    role: SiteRole,
    scope: Scope,
    request: SignedInRequest,
  ): Promise<void> {
    if (scope.at === 'programme') {
      if (actor.sitesFor(role) !== null) throw new Problem('not-allowed');
      return;
    }
    // Said before the site is looked at: whoever lacks the role everywhere learns nothing about what exists.
    if (!actor.mayAnywhere(role)) throw new Problem('not-allowed');
    if (scope.at === 'own-sites') return;
    const siteId = await this.siteOf(scope, request);
    if (!actor.mayAt(role, siteId)) throw new Problem('other-site');
  }

  private async requireReader(actor: Actor, param: string | null, request: SignedInRequest): Promise<void> {
    const read = actor.jurisdictionsRead();
    if (read?.length === 0) throw new Problem('not-allowed');
    if (param === null) return;
    const id = (request.params as Record<string, string>)[param];
    const jurisdictionId = isUUID(id) ? await this.scopes.jurisdictionOf(id as string) : null;
    if (jurisdictionId === null) throw notFound('report');
    if (read !== null && !read.includes(jurisdictionId)) throw new Problem('other-jurisdiction');
  }

  private async siteOf(
    scope: Extract<Scope, { at: 'site' | 'thing' }>,
    request: SignedInRequest,
  ): Promise<string> {
    if (scope.at === 'site') {
      const holder = request[scope.in] as Record<string, unknown> | null | undefined;
      const siteId = holder?.[scope.field];
      if (!isUUID(siteId)) {
        throw scope.in === 'params'
          ? notFound('site')
          : invalid(`/${scope.field}`, 'must be the UUID of a site');
      }
      return (siteId as string).toLowerCase();
    }
    const id = (request.params as Record<string, string>)[scope.param];
    const siteId = isUUID(id) ? await this.scopes.siteOf(scope.kind, id as string) : null;
    if (!siteId) throw notFound(scope.kind);
    return siteId;
  }
}
