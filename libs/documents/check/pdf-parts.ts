import { inflateSync } from 'node:zlib';

interface PdfObject {
  id: number;
  /** Without the length of its stream, which depends on how it was packed. */
  dictionary: string;
  /** Unpacked. */
  stream: Buffer | null;
}

export interface PdfParts {
  head: string;
  objects: PdfObject[];
  trailer: string;
}

class OtherLayout extends Error {}

/**
 * The parts of a PDF that `Sheet` wrote: every object with its stream unpacked, in the order of the file. Two files with the
 * same parts show the same, however their streams were packed. Null for any file that is laid out otherwise: written by another
 * program, saved again by one, or with anything before, between or after the parts that a reader might take for one.
 */
export function partsOf(pdf: Uint8Array): PdfParts | null {
  try {
    return new Walk(Buffer.from(pdf)).parts();
  } catch {
    return null; // a stream that does not unpack, too
  }
}

export function sameParts(one: PdfParts, other: PdfParts): boolean {
  const told = ({ head, objects, trailer }: PdfParts) =>
    JSON.stringify([head, trailer, objects.map(({ id, dictionary }) => [id, dictionary])]);
  return (
    told(one) === told(other) &&
    one.objects.every(({ stream }, index) => {
      const theirs = other.objects[index]?.stream ?? null;
      return stream === null || theirs === null ? stream === theirs : stream.equals(theirs);
    })
  );
}

/** The one file that is attached, as text; null where there is none, or another number of them. */
export function attachedText({ objects }: PdfParts): string | null {
  const files = objects.filter(({ dictionary }) => dictionary.includes('/Type /EmbeddedFile'));
  return files.length === 1 ? (files[0]?.stream?.toString('utf8') ?? null) : null;
}

class Walk {
  private at = 0;
  private readonly offsets = new Map<number, number>();

  constructor(private readonly bytes: Buffer) {}

  parts(): PdfParts {
    const head = this.line() + this.line();
    const objects: PdfObject[] = [];
    let start = this.at;
    for (let line = this.line(); line !== 'xref'; line = this.line()) {
      const id = Number(this.match(/^(\d+) 0 obj$/, line));
      if (this.offsets.has(id)) throw new OtherLayout();
      this.offsets.set(id, start);
      objects.push(this.object(id));
      start = this.at;
    }
    this.requireOffsets();
    const rest = this.bytes.subarray(this.at).toString('latin1');
    const [, trailer = '', found] = /^(trailer\n[^]*\n)startxref\n(\d+)\n%%EOF\n$/.exec(rest) ?? [];
    if (Number(found) !== start || trailer.includes('startxref')) throw new OtherLayout();
    return { head, objects, trailer };
  }

  private object(id: number): PdfObject {
    let dictionary = '';
    for (let line = this.line(); ; line = this.line()) {
      if (line === 'endobj') return { id, dictionary, stream: null };
      if (line === 'stream') break;
      dictionary += `${line}\n`;
    }
    const packed = this.take(Number(this.match(/^\/Length (\d+)$/m, dictionary)));
    for (const expected of ['', 'endstream', 'endobj']) if (this.line() !== expected) throw new OtherLayout();
    const stream = dictionary.includes('/Filter /FlateDecode') ? inflateSync(packed) : packed;
    return { id, dictionary: dictionary.replace(/^\/Length \d+$/m, '/Length'), stream };
  }

  /** A table that led a reader past the objects, or to others in the midst of a stream, would show other pages. */
  private requireOffsets(): void {
    const entries = Number(this.match(/^0 (\d+)$/, this.line())) - 1;
    if (entries !== this.offsets.size) throw new OtherLayout();
    if (this.line() !== '0000000000 65535 f ') throw new OtherLayout();
    for (let id = 1; id <= entries; id += 1) {
      if (this.line() !== `${String(this.offsets.get(id)).padStart(10, '0')} 00000 n `)
        throw new OtherLayout();
    }
  }

  private line(): string {
    const end = this.bytes.indexOf(10, this.at);
    if (end < 0) throw new OtherLayout();
    const text = this.bytes.toString('latin1', this.at, end);
    this.at = end + 1;
    return text;
  }

  private take(length: number): Buffer {
    const part = this.bytes.subarray(this.at, this.at + length);
    this.at += length;
    return part;
  }

  private match(pattern: RegExp, text: string): string {
    const found = pattern.exec(text)?.[1];
    if (found === undefined) throw new OtherLayout();
    return found;
  }
}
