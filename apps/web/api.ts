/** A refusal as the API tells it (RFC 9457). */
export class Refusal extends Error {
  constructor(
    readonly status: number,
    title: string,
    readonly faults: { pointer: string; detail: string }[],
  ) {
    super(title);
  }
}

interface Problem {
  title?: string;
  detail?: string;
  errors?: { pointer: string; detail: string }[];
}

/** Calls the API with the session cookie. Throws `Refusal`, or TypeError where there is no network. */
export async function call<T>(method: 'GET' | 'POST' | 'DELETE', path: string, body?: object): Promise<T> {
  const response = await fetch(`/api${path}`, {
    method,
    credentials: 'same-origin',
    ...(body ? { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) } : {}),
  });
  if (response.status === 204) return undefined as T;
  if (response.ok) return (await response.json()) as T;
  const problem = (await response.json().catch(() => ({}))) as Problem;
  throw new Refusal(
    response.status,
    problem.detail ?? problem.title ?? `answer ${response.status}`,
    problem.errors ?? [],
  );
}

export interface Page<T> {
  items: T[];
  next: string | null;
}

/** Every item of a short list, page after page. */
export async function all<T>(path: string): Promise<T[]> {
  const items: T[] = [];
  let cursor: string | null = null;
  do {
    const joint = path.includes('?') ? '&' : '?';
    const page: Page<T> = await call('GET', `${path}${joint}limit=200${cursor ? `&cursor=${cursor}` : ''}`);
    items.push(...page.items);
    cursor = page.next;
  } while (cursor);
  return items;
}
