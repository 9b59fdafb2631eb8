import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { finished } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { apiAt } from '../../apps/commands/up/caller.js';

const programme = fileURLToPath(new URL('../../dist/apps/commands/up.js', import.meta.url));
const STARTED = 'Ctrl-C stops it';

export const first = { email: 'first@larkhollow.example', password: 'a long first password' };

/** The programme of `npm run up` as a process of its own, started and, where the test wants it, ended by hand. */
export class Programme {
  /** Everything it has said. */
  said = '';
  readonly ended: Promise<number | NodeJS.Signals | null>;
  private readonly started: Promise<void>;
  private readonly child: ChildProcess;

  constructor(environment: NodeJS.ProcessEnv) {
    if (!existsSync(programme)) throw new Error('this test needs the build: npm run build');
    this.child = spawn(process.execPath, [programme], {
      env: {
        ...process.env,
        DATABASE_URL: '',
        HEAPWRIGHT_DEMO: 'off',
        HEAPWRIGHT_FIRST_EMAIL: first.email,
        HEAPWRIGHT_FIRST_PASSWORD: first.password,
        ...environment,
      },
      stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    });
    this.started = new Promise((resolve) => {
      const hear = (chunk: Buffer) => {
        this.said += chunk.toString();
        if (this.said.includes(STARTED)) resolve();
      };
      this.child.stdout?.on('data', hear);
      this.child.stderr?.on('data', hear);
    });
    this.ended = this.end();
  }

  /** Not by its `close`, which never comes once it was abandoned. */
  private async end(): Promise<number | NodeJS.Signals | null> {
    const [[code, signal]] = await Promise.all([
      once(this.child, 'exit'),
      ...[this.child.stdout, this.child.stderr].map((stream) => stream && finished(stream)),
    ]);
    return code ?? signal;
  }

  /** The address it listens on, once it says so. */
  async address(): Promise<string> {
    await Promise.race([this.started, this.ended]);
    if (!this.said.includes(STARTED)) throw new Error(`it ended instead of starting:\n${this.said}`);
    return /running at (\S+)/.exec(this.said)?.[1] ?? '';
  }

  async call(method: string, path: string, options?: { as?: string; body?: unknown }) {
    const answer = await apiAt(await this.address()).call(method, path, options);
    return { status: answer.status, body: answer.body as any };
  }

  async signIn(): Promise<string> {
    return (await this.call('POST', '/sessions', { body: first })).body.token;
  }

  kill(signal: NodeJS.Signals): void {
    this.child.kill(signal);
  }

  /** As when the process that started it is gone. */
  abandon(): void {
    this.child.disconnect();
  }

  async stop(): Promise<number | NodeJS.Signals | null> {
    this.kill('SIGTERM');
    return this.ended;
  }
}
