import { v7 } from 'uuid';

/** How the demo reaches the API: the same way as anybody. */
export interface DemoApi {
  call(
    method: string,
    path: string,
    options?: { as?: string; body?: unknown; headers?: Record<string, string> },
  ): Promise<{ status: number; body: unknown }>;
}

export class DemoError extends Error {}

/** Calls as one person; anything but success ends the loading, with what was answered. */
export class Caller {
  constructor(
    private readonly api: DemoApi,
    private readonly token?: string,
  ) {}

  async signIn(email: string, password: string): Promise<Caller> {
    const { token } = await this.post<{ token: string }>('/sessions', { email, password });
    return new Caller(this.api, token);
  }

  /** Calls with a key of its own instead of a session, as a logger does. */
  withKey(key: string): Caller {
    return new Caller(this.api, key);
  }

  post<T = { id: string }>(path: string, body: object, headers?: Record<string, string>): Promise<T> {
    return this.send<T>('POST', path, body, headers);
  }

  get<T>(path: string): Promise<T> {
    return this.send<T>('GET', path);
  }

  private async send<T>(
    method: string,
    path: string,
    body?: object,
    headers?: Record<string, string>,
  ): Promise<T> {
    const answer = await this.api.call(method, path, {
      ...(this.token ? { as: this.token } : {}),
      ...(body ? { body } : {}),
      ...(headers ? { headers } : {}),
    });
    if (answer.status >= 300) {
      throw new DemoError(`${method} ${path} answered ${answer.status}: ${JSON.stringify(answer.body)}`);
    }
    return answer.body as T;
  }
}

/** An id made where the entry is made, as a hub device would. */
export const newId = (): string => v7();
