import PDFDocument from 'pdfkit';
import { FONT_FILES, INK, PAGE, type PageSize, type Style } from './look.js';
import { breakLines, printable } from './letters.js';

export type Element = PDFKit.PDFStructureElement;
/** Tags of the PDF standard structure (ISO 32000-1, 14.8.4). */
export type Tag =
  'Sect' | 'H1' | 'H2' | 'H3' | 'P' | 'Table' | 'TR' | 'TH' | 'TD' | 'L' | 'LI' | 'Lbl' | 'LBody' | 'Figure';

export interface SheetOptions {
  title: string;
  /** Stands in the file in place of the moment of printing, so that the same data gives the same bytes. */
  createdAt: Date;
  /** Told apart from other documents of the same title and time by this; usually the seal. */
  keywords: string | null;
  /** Other than the page of a record, as a label is. */
  page?: PageSize;
}

interface LoadedFont {
  hasGlyphForCodePoint: (codePoint: number) => boolean;
}

/**
 * A tagged, archival PDF that is written downward, page after page. Everything drawn is either the content of a
 * structure element or an artifact, so that a screen reader hears the text once and in order.
 */
export class Sheet {
  readonly doc: PDFKit.PDFDocument;
  /** Where the next thing goes, from the top of the page. */
  y: number;
  /** True once a character had to be replaced because the typeface has no letter for it. */
  replaced = false;
  private parent: Element;
  private readonly leads: { height: number; draw: () => void; parent: Element }[] = [];
  private readonly bytes: Promise<Uint8Array>;
  private readonly font: LoadedFont;
  private readonly createdAt: Date;
  private readonly page: PageSize;

  constructor(options: SheetOptions) {
    this.createdAt = options.createdAt;
    this.page = options.page ?? PAGE;
    const { width, height, top, left, right } = this.page;
    this.y = top;
    this.doc = new PDFDocument({
      size: [width, height],
      margins: { top, bottom: 0, left, right },
      pdfVersion: '1.7',
      subset: 'PDF/A-3a',
      tagged: true,
      lang: 'en',
      displayTitle: true,
      bufferPages: true,
      font: FONT_FILES.regular,
      info: {
        // pdfkit writes the title into XML without escaping it
        Title: options.title.replaceAll(/[<>&]/g, ' '),
        Creator: 'Heapwright',
        Producer: 'pdfkit',
        CreationDate: options.createdAt,
        ...(options.keywords === null ? {} : { Keywords: options.keywords }),
      },
    });
    this.bytes = collect(this.doc);
    // pdfkit has no public question "is there a glyph?", and a missing one would break PDF/A without a sound
    this.font = (this.doc as unknown as { _font: { font: LoadedFont } })._font.font;
    this.parent = this.doc.struct('Document');
    this.doc.addStructure(this.parent);
  }

  /**
   * Puts what the document was drawn from into the file itself, as PDF/A-3 allows: whoever has the paper's file has its
   * data, and can check them against the seal.
   */
  attach(name: string, json: string): void {
    const options = {
      ...{
        name,
        type: 'application/json',
        description: 'What this document was drawn from, as it was sealed',
      },
      ...{ creationDate: this.createdAt, modifiedDate: this.createdAt, relationship: 'Source' },
    };
    this.doc.file(Buffer.from(json, 'utf8'), options);
  }

  get bottom(): number {
    return this.page.height - this.page.bottom;
  }

  /** Has `draw` put something of `height` right above whatever comes next, and on the same page as it. */
  lead(height: number, draw: () => void): void {
    this.leads.push({ height, draw, parent: this.parent });
  }

  /**
   * Makes room for a block of `height`, on a new page if it does not fit on this one, and puts down the headings
   * that wait for it. Every block asks before it adds its element.
   */
  need(height: number): void {
    if (!this.fits(height) && this.y > this.page.top) this.newPage();
    const leads = this.leads.splice(0);
    const { parent } = this;
    for (const lead of leads) {
      this.parent = lead.parent;
      lead.draw();
    }
    this.parent = parent;
  }

  /** Whether a block of `height`, under the headings that wait, still fits on this page. */
  fits(height: number): boolean {
    const waiting = this.leads.reduce((sum, lead) => sum + lead.height, 0);
    return this.y + waiting + height <= this.bottom;
  }

  newPage(): void {
    this.doc.addPage();
    this.y = this.page.top;
  }

  /** An element that holds whatever `body` adds. */
  within(tag: Tag, body: () => void): void {
    const outer = this.parent;
    this.parent = this.element(tag);
    body();
    this.parent.end();
    this.parent = outer;
  }

  /** A new element under the current one. Give it content with `draw`, page by page, then end it. */
  element(tag: Tag, options: Record<string, unknown> = {}): Element {
    const element = this.doc.struct(tag, options);
    this.parent.add(element);
    return element;
  }

  draw(element: Element, content: () => void): void {
    element.add(content);
  }

  /** Something drawn that says nothing by itself: a rule, a page number. */
  artifact(draw: () => void): void {
    this.doc.markContent('Artifact', { type: 'Layout' });
    draw();
    this.doc.endMarkedContent();
  }

  /** One line of text with its top left corner at x, y. */
  line(text: string, x: number, y: number, style: Style): void {
    this.use(style);
    this.doc.fillColor(style.colour).text(this.printable(text), x, y, { lineBreak: false });
  }

  rule(x: number, y: number, width: number, options: { colour?: string; weight?: number } = {}): void {
    this.doc
      .moveTo(x, y)
      .lineTo(x + width, y)
      .lineWidth(options.weight ?? 0.5)
      .stroke(options.colour ?? INK.hair);
  }

  widthOf(text: string, style: Style): number {
    this.use(style);
    return this.doc.widthOfString(this.printable(text));
  }

  wrap(text: string, style: Style, width: number): string[] {
    this.use(style);
    return breakLines(this.printable(text), width, (part) => this.doc.widthOfString(part));
  }

  /** The first line of a text that must not take a second; what is cut off shows as an ellipsis. */
  fit(text: string, style: Style, width: number): string {
    const [first = '', ...rest] = this.wrap(text, style, width);
    if (rest.length === 0) return first;
    return `${(this.wrap(first, style, width - this.widthOf('…', style))[0] ?? '').trimEnd()}…`;
  }

  /** Runs `draw` on each page, with its number from 1 and the count of pages. */
  onEveryPage(draw: (page: number, pages: number) => void): void {
    const { start, count } = this.doc.bufferedPageRange();
    for (let index = 0; index < count; index += 1) {
      this.doc.switchToPage(start + index);
      this.artifact(() => draw(index + 1, count));
    }
  }

  async finish(): Promise<Uint8Array> {
    this.parent.end();
    this.doc.end();
    return this.bytes;
  }

  private use(style: Style): void {
    // by path, not by a registered name: pdfkit would open the face of the constructor again at every change
    this.doc.font(FONT_FILES[style.face]).fontSize(style.size);
  }

  private printable(text: string): string {
    return printable(text, (codePoint) => {
      const known = this.font.hasGlyphForCodePoint(codePoint);
      if (!known) this.replaced = true;
      return known;
    });
  }
}

async function collect(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  for await (const piece of doc) pieces.push(piece as Uint8Array);
  return Buffer.concat(pieces);
}
