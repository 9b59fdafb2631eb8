import { PassThrough, type Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { Injectable } from '@nestjs/common';
import { minuteMs } from '#libs/quantities';
import { Problem } from './problems/catalogue.js';

/** A reader this slow is gone: its connection to the database is somebody else's. */
const LONGEST_MS = 15 * minuteMs;

/** As many of a process's connections are for readers of tables, who may be slow; the others are for everybody. */
const AT_ONCE = 2;

type Text = AsyncIterable<string>;

/** Long tables, sent while they are read. Two at once a process; more are refused (429). */
@Injectable()
export class TableStreams {
  private running = 0;

  /** `read` opens the table, hands its pieces to the function it is given, and closes it when that is done. */
  stream(read: (use: (text: Text) => Promise<void>) => Promise<void>): Readable {
    if (this.running >= AT_ONCE) throw new Problem('too-many', 'Other tables are being read: wait a little.');
    this.running += 1;
    const out = new PassThrough();
    const signal = AbortSignal.timeout(LONGEST_MS);
    read((text) => pipeline(text, out, { signal }))
      // What was sent already cannot be taken back: the reader sees the connection break, not a shorter table.
      .catch((error: unknown) => out.destroy(error instanceof Error ? error : new Error(String(error))))
      .finally(() => (this.running -= 1));
    return out;
  }
}
