export interface CallOptions {
  /** Session token; without one the call has no session. */
  as?: string;
  body?: unknown;
  headers?: Record<string, string>;
}

export interface Called {
  status: number;
  /** Parsed, where the answer is JSON. */
  body: unknown;
  bytes: Buffer;
}

/** The API as anybody reaches it, over HTTP. */
export interface Api {
  call(method: string, path: string, options?: CallOptions): Promise<Called>;
}

/** Calls `/api` + path at this address, `http://host:port`. */
export function apiAt(address: string): Api {
  return {
    async call(method, path, { as, body, headers } = {}) {
      const response = await fetch(`${address}/api${path}`, {
        method,
        headers: {
          ...(as ? { authorization: `Bearer ${as}` } : {}),
          ...(body === undefined ? {} : { 'content-type': 'application/json' }),
          ...headers,
        },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      const bytes = Buffer.from(await response.arrayBuffer());
      const isJson = response.headers.get('content-type')?.includes('json') && bytes.length > 0;
      return { status: response.status, body: isJson ? JSON.parse(bytes.toString()) : undefined, bytes };
    },
  };
}
