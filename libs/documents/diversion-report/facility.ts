/** What forms of states ask of a composting site for a period. Masses are wet, as they were weighed or estimated. */
export interface Facility {
  code: string;
  name: string;
  /** Every permit in force on a day of the period. */
  permits: { reference: string; validFrom: string; validTo: string | null }[];
  /** What was put into its batches from drop-offs, by material and by where it came from. */
  receivedByMaterial: { material: string; name: string; massKg: number; estimatedKg: number }[];
  receivedByOrigin: { jurisdiction: string; massKg: number }[];
  /** Bulking and other material that came through no drop-off; water apart. */
  bulking: { material: string; name: string; massKg: number; estimatedKg: number }[];
  waterKg: number;
  /** Batches whose building ended in the period, and what had gone into them; water, and what other batches gave, apart. */
  processed: { batches: number; massKg: number };
  /** On the site when the period ended, every stage in turn; as put in, less what had come out. */
  onSite: {
    stage: 'waiting' | 'building' | 'active' | 'curing' | 'condemned' | 'overs' | 'finished';
    massKg: number;
    volumeL: number | null;
  }[];
  produced: { batches: number; massKg: number; volumeL: number | null };
  distributed: { use: string; recipient: string; massKg: number; volumeL: number | null; count: number }[];
  residue: { wentTo: string; massKg: number }[];
  /** Batches released in the period and what shows that they were hot: the rule, the verdict, and the seal of the record. */
  releases: {
    batch: string;
    releasedOn: string;
    rule: string | null;
    status: string | null;
    hotHours: number | null;
    turns: number | null;
    seal: string;
  }[];
  samples: { kind: string; passed: number; failed: number; information: number }[];
  complaints: { on: string; kind: string; about: string; done: string[] }[];
}
