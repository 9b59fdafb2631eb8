import { Injectable } from '@nestjs/common';
import { mixOf, termOf } from '#libs/materials';
import type { SqlWrite } from '../http/writes/work.js';
import { BuiltService, soundParts } from './built.service.js';
import { type BatchMix, mixView } from './mix-view.js';

export type { BatchMix, MixMaterial, MixStanding } from './mix-view.js';

type Sql = SqlWrite['sql'];

/** C:N to the last digit, as a rule is held against it. */
export interface ExactCarbon {
  /** Null where it is not known of every gram. */
  value: number | null;
  /** Codes of the materials whose figures are missing, or cannot be. */
  missing: string[];
}

@Injectable()
export class MixService {
  constructor(private readonly built: BuiltService) {}

  /** The mix as the batch was built or, while it is built, as it stands. Refuses (404) where there is no such batch. */
  async mix(batchId: string, sql?: Sql): Promise<BatchMix> {
    const built = await this.built.built(batchId, sql);
    const permit = await this.built.permitOf(built, sql);
    const { sound, contradicted } = soundParts(built.parts);
    return mixView({ parts: sound, contradicted, permit, leftAt: built.leftAt });
  }

  /** Of minerals, charcoal and water nothing needs to be known. A mix of nothing else, or of nothing, has none. */
  async carbonToNitrogen(batchId: string, sql?: Sql): Promise<ExactCarbon> {
    const { sound: parts } = soundParts((await this.built.built(batchId, sql)).parts);
    const lacking = parts.filter((part) => 'lacking' in termOf('carbonToNitrogen', part));
    if (lacking.length > 0) return { value: null, missing: lacking.map(({ material }) => material.code) };
    return { value: mixOf(parts).value.carbonToNitrogen, missing: [] };
  }
}
