import { v7 } from 'uuid';
import type { Answer, TestApi } from './api.js';
import { acceptedG, type BookedEntry, type BookedLot, Books, type Move } from './books.js';
import type { Programme } from './programme.js';
import { putRelease, type Yard } from './yard-work.js';

export const everyAction = [
  ...(['intake', 'correct', 'pull', 'void a lot', 'split', 'take back an assignment'] as const),
  ...(['add from stock', 'add water', 'return overs', 'water', 'take back an input'] as const),
  ...(['make active', 'make curing', 'condemn', 'sample', 'screen', 'take back an output'] as const),
  ...(['release', 'distribute', 'take back a distribution', 'merge'] as const),
  ...(['haul', 'receive', 'void a receipt', 'void a haul'] as const),
];
export type Action = (typeof everyAction)[number];

const grams = (value: number) => ({ value, unit: 'g' });
const gramsOf = (kilograms: number) => Math.round(kilograms * 1000);

/** One thing to try: what, on which of those there are, and how much of it. */
export interface Step {
  what: Action;
  pick: number;
  other: number;
  massG: number;
}

interface Batch {
  id: string;
  code: string;
}

/** Tries things over the API, and books what was answered with success. */
export class BookKeeping {
  readonly books = new Books();
  readonly done = new Map<Action, number>();
  refused = 0;
  private batches: Batch[] = [];
  private lots: BookedLot[] = [];

  constructor(
    readonly api: TestApi,
    private readonly programme: Programme,
    private readonly yard: Yard,
  ) {}

  /** Other lots and batches than before; what was booked of those stays. */
  async beginAnew(): Promise<void> {
    this.batches = [await this.yard.begin(), await this.yard.begin()];
    this.lots = [];
  }

  async take(step: Step): Promise<void> {
    const answer = await actions[step.what].call(this, step);
    if (answer === null) return;
    if (answer < 300) this.done.set(step.what, (this.done.get(step.what) ?? 0) + 1);
    else if (answer < 500) this.refused += 1;
    else throw new Error(`${JSON.stringify(step)} was answered ${answer}`);
  }

  post(path: string, body: object): Promise<Answer> {
    return this.api.call('POST', path, { as: this.api.coordinator, body });
  }

  lot({ pick }: Step): BookedLot | undefined {
    return this.lots[pick % this.lots.length];
  }

  batch(index: number): Batch {
    return this.batches[index % this.batches.length]!;
  }

  get hub() {
    return this.programme.hub1.id;
  }

  get yardId() {
    return this.yard.yard.id;
  }

  /** The amount of a lot: weighed, or by volume, of which the mass is what is answered. */
  stated({ massG, other }: Step) {
    const volume = { value: Math.max(1, Math.round(massG / 500)), unit: 'L' };
    const amount = other % 3 === 0 ? { volume } : { weight: { net: grams(massG) } };
    return { material: 'food-scraps', depositor: 'household', ...amount };
  }

  async addLot(step: Step): Promise<number> {
    const occurredAt = new Date(Date.now() - 1000).toISOString();
    const stated = this.stated(step);
    const { status, body } = await this.post('/drop-offs', { siteId: this.hub, occurredAt, ...stated });
    if (status !== 201) return status;
    const lot = { id: body.id as string, siteId: this.hub, occurredAt, netG: gramsOf(body.netKg) };
    this.lots.push({ ...lot, byVolume: 'volume' in stated, rejects: [], voided: false });
    this.books.lots.push(this.lots.at(-1)!);
    return status;
  }

  async enter(kind: string, path: string, body: object, moves: Move[]): Promise<number> {
    const id = v7();
    const { status } = await this.post(path, { id, ...body });
    if (status < 300) this.books.entries.push({ kind, voidPath: `${path}/${id}/void`, moves, voided: false });
    return status;
  }

  async undo({ pick }: Step, ...kinds: string[]): Promise<number | null> {
    const standing = this.books.entries.filter(({ kind, voided }) => kinds.includes(kind) && !voided);
    const entry: BookedEntry | undefined = standing.at(-1 - (pick % Math.min(6, standing.length || 1)));
    if (!entry?.voidPath) return null;
    const { status } = await this.post(entry.voidPath, { reason: 'entered twice' });
    if (status < 300) entry.voided = true;
    return status;
  }

  async release({ id }: Batch): Promise<number> {
    const { body } = await this.api.call('GET', `/batches/${id}`, { as: this.api.coordinator });
    if (body.stage !== 'curing') return 409;
    await putRelease(this.api, this.programme.people.manager.id, id);
    return 201;
  }

  /** Masses of lots that a weighing of their haul changes. */
  async reread(lots: readonly BookedLot[]): Promise<void> {
    for (const lot of lots) {
      const { body } = await this.api.call('GET', `/drop-offs/${lot.id}`, { as: this.api.coordinator });
      lot.netG = gramsOf(body.netKg);
    }
  }
}

type Acting = (this: BookKeeping, step: Step) => Promise<number | null>;
const at = (place: string, { id }: { id: string }) => `${place}:${id}`;

async function correct(this: BookKeeping, step: Step): Promise<number | null> {
  const lot = this.lot(step);
  if (!lot) return null;
  const rejects = lot.rejects.map(({ massG, to }) => ({
    contaminant: 'glass',
    mass: grams(massG),
    wentTo: to,
  }));
  const { body: before } = await this.api.call('GET', `/drop-offs/${lot.id}`, { as: this.api.coordinator });
  const restated = { occurredAt: lot.occurredAt, jurisdictionId: before.jurisdictionId, rejects };
  const stated = this.stated(step);
  const { status, body } = await this.post(`/drop-offs/${lot.id}/corrections`, {
    ...{ ...stated, ...restated, reason: 'misread' },
  });
  if (status < 300) Object.assign(lot, { netG: gramsOf(body.netKg), byVolume: 'volume' in stated });
  return status;
}

async function pull(this: BookKeeping, step: Step): Promise<number | null> {
  const lot = this.lot(step);
  if (!lot) return null;
  const to = ['landfill', 'recycling', 'returned', 'other-composting'][step.other % 4]!;
  const pulled = { contaminant: 'glass', mass: grams(step.massG), wentTo: to };
  const { status } = await this.post(`/drop-offs/${lot.id}/rejects`, pulled);
  if (status < 300) lot.rejects.push({ massG: step.massG, to });
  return status;
}

async function voidLot(this: BookKeeping, step: Step): Promise<number | null> {
  const lot = this.lot(step);
  if (!lot || lot.voided) return null;
  const { status } = await this.post(`/drop-offs/${lot.id}/void`, { reason: 'entered twice' });
  if (status < 300) lot.voided = true;
  return status;
}

async function assign(this: BookKeeping, step: Step): Promise<number | null> {
  const lot = this.lot(step);
  if (!lot) return null;
  const path = `/batches/${this.batch(step.other).id}/assignments`;
  const id = v7();
  const move = { from: this.books.placeOf(lot), to: at('batch', this.batch(step.other)), massG: step.massG };
  const { status } = await this.post(path, { items: [{ id, dropOffId: lot.id, mass: grams(step.massG) }] });
  const entry = { kind: 'assignment', voidPath: `${path}/${id}/void`, moves: [move], voided: false };
  if (status < 300) this.books.entries.push(entry);
  return status;
}

const amend = (from: 'stock' | 'water'): Acting =>
  async function ({ pick, massG }) {
    const batch = this.batch(pick);
    const body = { from, ...(from === 'stock' ? { material: 'wood-chips' } : {}), mass: grams(massG) };
    const source = from === 'water' ? 'tap' : from;
    return this.enter('amendment', `/batches/${batch.id}/amendments`, body, [
      { from: source, to: at('batch', batch), massG },
    ]);
  };

async function takeOvers(this: BookKeeping, { pick, massG }: Step): Promise<number | null> {
  const [giver, taker] = [this.batch(pick), this.batch(pick + 1)];
  const body = { from: 'overs', batchId: giver.id, mass: grams(massG) };
  const move = { from: at('overs', giver), to: at('batch', taker), massG };
  return this.enter('amendment', `/batches/${taker.id}/amendments`, body, [move]);
}

async function water(this: BookKeeping, { pick, massG }: Step): Promise<number | null> {
  const batch = this.batch(pick);
  const volume = { value: massG / 1000, unit: 'L' };
  const move = { from: 'tap', to: at('batch', batch), massG };
  return this.enter('watering', `/batches/${batch.id}/waterings`, { volume }, [move]);
}

async function sample(this: BookKeeping, { pick, massG }: Step): Promise<number | null> {
  const batch = this.batch(pick);
  const body = { kind: 'maturity', outcome: 'information', finding: 'earthy', mass: grams(massG) };
  const move = { from: at('batch', batch), to: 'laboratory', massG };
  return this.enter('sample', `/batches/${batch.id}/samples`, body, [move]);
}

async function screen(this: BookKeeping, { pick, other, massG }: Step): Promise<number | null> {
  const batch = this.batch(pick);
  const residueWentTo = ['landfill', 'recycling', 'other-composting'][other % 3]!;
  // Every other one has no compost, as of a condemned batch.
  const [compost, overs, residue] = [other % 2 === 0 ? massG : 0, massG, 1 + (massG >> 2)];
  const parts = { compost: grams(compost), overs: grams(overs), residue: grams(residue), residueWentTo };
  const from = at('batch', batch);
  return this.enter('screening', `/batches/${batch.id}/screenings`, parts, [
    { from, to: at('compost', batch), massG: compost },
    { from, to: at('overs', batch), massG: overs },
    { from, to: residueWentTo, massG: residue },
  ]);
}

async function distribute(this: BookKeeping, { pick, massG }: Step): Promise<number | null> {
  const batch = this.batch(pick);
  const body = { recipient: 'school', use: 'lawns', mass: grams(massG) };
  const move = { from: at('compost', batch), to: 'recipient', massG };
  return this.enter('distribution', `/batches/${batch.id}/distributions`, body, [move]);
}

const stage = (to: string): Acting =>
  async function ({ pick }) {
    const body = { to, ...(to === 'condemned' ? { reason: 'full of glass' } : {}) };
    return (await this.post(`/batches/${this.batch(pick).id}/stage`, body)).status;
  };

/** Of what lies there by the records: all of it, or what was weighed. */
async function merge(this: BookKeeping, { pick, other, massG }: Step): Promise<number | null> {
  const [giver, taker] = [this.batch(pick), this.batch(pick + 1)];
  const leftG = this.books.ledger()[at('batch', giver)] ?? 0;
  const weighed = other % 2 === 0;
  const body = { fromBatchId: giver.id, ...(weighed ? { mass: grams(massG) } : {}) };
  const move = { from: at('batch', giver), to: at('batch', taker), massG: weighed ? massG : leftG };
  const { status } = await this.post(`/batches/${taker.id}/merges`, body);
  const entry = { kind: 'merge', voidPath: null, moves: [move], voided: false };
  if (status < 300) this.books.entries.push(entry);
  return status;
}

async function haul(this: BookKeeping, step: Step): Promise<number | null> {
  const first = this.lot(step);
  const second = this.lot({ ...step, pick: step.pick + 1 });
  const lots = [...new Set([first, second])].flatMap((lot) => lot ?? []);
  if (lots.length === 0) return null;
  const toSite = step.other % 5 === 0 ? null : this.yardId;
  const id = v7();
  const { status } = await this.post('/hauls', {
    ...{ id, siteId: this.hub, lots: { dropOffIds: lots.map((lot) => lot.id) } },
    ...(toSite === null ? { elsewhere: 'Bittern Farm' } : { toSiteId: toSite }),
  });
  const sent = { id, lots, fromSite: this.hub, toSite, received: null, voided: false };
  if (status < 300) this.books.hauls.push(sent);
  return status;
}

const latestHaul = ({ books }: BookKeeping, { pick }: Step) => {
  const standing = books.hauls.filter(({ voided }) => !voided);
  return standing.at(-1 - (pick % Math.min(2, standing.length || 1)));
};

/** Unweighed, or at least with the grams that its weighed lots make: then the shares of the others make the rest of it. */
async function receive(this: BookKeeping, step: Step): Promise<number | null> {
  const sent = latestHaul(this, step);
  if (!sent) return null;
  const lots = sent.lots.filter(({ voided }) => !voided);
  const weighedG = lots.reduce((sum, lot) => sum + (lot.byVolume ? 0 : acceptedG(lot)), 0);
  const inG = step.other % 3 === 0 ? null : weighedG + step.massG;
  const body = inG === null ? {} : { weight: { net: grams(inG) } };
  const { status } = await this.post(`/hauls/${sent.id}/receipt`, body);
  if (status >= 300) return status;
  const estimated = lots.filter(({ byVolume }) => byVolume && inG !== null);
  sent.received = { before: estimated.map((lot) => ({ lot, netG: lot.netG })) };
  await this.reread(lots);
  const cameG = lots.reduce((sum, lot) => sum + acceptedG(lot), 0);
  if (estimated.length > 0 && cameG !== inG) throw new Error(`${cameG} g of lots came of ${inG} g`);
  return status;
}

async function voidReceipt(this: BookKeeping, step: Step): Promise<number | null> {
  const sent = latestHaul(this, step);
  if (!sent?.received) return null;
  const { status } = await this.post(`/hauls/${sent.id}/receipt/void`, { reason: 'the wrong haul' });
  if (status >= 300) return status;
  for (const { lot, netG } of sent.received.before) lot.netG = netG;
  sent.received = null;
  return status;
}

async function voidHaul(this: BookKeeping, step: Step): Promise<number | null> {
  const sent = latestHaul(this, step);
  if (!sent) return null;
  const { status } = await this.post(`/hauls/${sent.id}/void`, { reason: 'it never left' });
  if (status < 300) sent.voided = true;
  return status;
}

const actions: Record<Action, Acting> = {
  intake: function (step) {
    return this.addLot(step);
  },
  correct,
  pull,
  'void a lot': voidLot,
  split: assign,
  'take back an assignment': function (step) {
    return this.undo(step, 'assignment');
  },
  'add from stock': amend('stock'),
  'add water': amend('water'),
  'return overs': takeOvers,
  water,
  'take back an input': function (step) {
    return this.undo(step, 'amendment', 'watering');
  },
  'make active': stage('active'),
  'make curing': stage('curing'),
  condemn: stage('condemned'),
  sample,
  screen,
  'take back an output': function (step) {
    return this.undo(step, 'sample', 'screening');
  },
  release: function ({ pick }) {
    return this.release(this.batch(pick));
  },
  distribute,
  'take back a distribution': function (step) {
    return this.undo(step, 'distribution');
  },
  merge,
  haul,
  receive,
  'void a receipt': voidReceipt,
  'void a haul': voidHaul,
};
