import { RequestMethod } from '@nestjs/common';
import { METHOD_METADATA, PATH_METADATA } from '@nestjs/common/constants.js';
import { ModulesContainer } from '@nestjs/core';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { ACCESS, type AccessRule } from '../../apps/api/http/access/access.js';

export interface Route {
  method: string;
  /** Below `/api`, with `:name` for parameters. */
  path: string;
  rule: AccessRule | undefined;
}

const joined = (...parts: string[]) => `/${parts.join('/')}`.replaceAll(/\/+/g, '/').replace(/(.)\/$/, '$1');

/** Every route of the running application, with what it says about access. */
export function routesOf(app: NestFastifyApplication): Route[] {
  const routes: Route[] = [];
  for (const module of app.get(ModulesContainer).values()) {
    for (const { metatype } of module.controllers.values()) {
      const prototype = (metatype as { prototype: Record<string, object> }).prototype;
      const base = Reflect.getMetadata(PATH_METADATA, metatype!) as string;
      for (const name of Object.getOwnPropertyNames(prototype)) {
        const handler = prototype[name]!;
        const method = Reflect.getMetadata(METHOD_METADATA, handler) as RequestMethod | undefined;
        if (method === undefined) continue;
        const paths = [Reflect.getMetadata(PATH_METADATA, handler) as string | string[]].flat();
        const rule = (Reflect.getMetadata(ACCESS, handler) ?? Reflect.getMetadata(ACCESS, metatype!)) as
          AccessRule | undefined;
        for (const path of paths)
          routes.push({ method: RequestMethod[method], path: joined(base, path), rule });
      }
    }
  }
  return routes;
}
