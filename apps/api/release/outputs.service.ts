import { Injectable } from '@nestjs/common';
import { kgOf } from '#libs/quantities';
import { Problem } from '../http/problems/catalogue.js';
import type { NewEntry } from '../http/writes/batch-log.js';
import type { SqlWrite } from '../http/writes/work.js';
import { type BatchTotals, type CompostTotals, OutputsRecords } from './outputs.records.js';

type Sql = SqlWrite['sql'];

/** Holds every output to what there was of it, one write at a time. */
@Injectable()
export class OutputsService {
  constructor(private readonly outputs: OutputsRecords) {}

  totals(batchId: string, sql?: Sql): Promise<BatchTotals> {
    return this.outputs.totals(batchId, sql);
  }

  compost(batchId: string, sql?: Sql): Promise<CompostTotals> {
    return this.outputs.compost(batchId, sql);
  }

  /** Until the end of the transaction nobody else adds to the batch or takes from it. */
  lock(sql: Sql, batchId: string): Promise<void> {
    return this.outputs.lock(sql, batchId);
  }

  /** For a record that takes mass out of a batch: refuses (409) when more would be out than went in. */
  weighed(batchId: string): Pick<NewEntry, 'before' | 'after'> {
    return {
      before: ({ sql }) => this.outputs.lock(sql, batchId),
      after: async ({ sql }) => {
        const { inputG, outputG } = await this.outputs.totals(batchId, sql);
        if (outputG > inputG) {
          const text = `${kgOf(outputG)} kg would have come out of the ${kgOf(inputG)} kg that went in.`;
          throw new Problem('balance-exceeded', text);
        }
      },
    };
  }

  /** For a record of compost that leaves: refuses (409) when more would leave than screening gave. */
  distributed(batchId: string): Pick<NewEntry, 'before' | 'after'> {
    return {
      before: ({ sql }) => this.outputs.lock(sql, batchId),
      after: async ({ sql }) => {
        const { compostG, distributedG } = await this.outputs.compost(batchId, sql);
        if (distributedG > compostG) {
          const text = `${kgOf(distributedG)} kg would have left of the ${kgOf(compostG)} kg of compost that were made.`;
          throw new Problem('balance-exceeded', text);
        }
      },
    };
  }
}
