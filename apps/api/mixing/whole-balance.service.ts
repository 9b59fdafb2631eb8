import { Injectable } from '@nestjs/common';
import { litresOf, volumeToMl } from '#libs/quantities';
import { BalanceService, type BatchBalance } from '../batches/balance.service.js';
import { MixService } from './mix.service.js';

/** The balance of a batch, by volume as well: docs/accounting.md §3. */
export interface WholeBalance extends BatchBalance {
  /** What went in as the mix sums it, before it settled; null where a density is not known. */
  volumeInL: number | null;
  yieldByVolumePercent: number | null;
  /** That, less the pile as it was measured last; null where that is not what lies there now. */
  volumeLostL: number | null;
}

@Injectable()
export class WholeBalanceService {
  constructor(
    private readonly balances: BalanceService,
    private readonly mixes: MixService,
  ) {}

  /** Refuses (404) where there is no such batch. */
  async balance(batchId: string): Promise<WholeBalance> {
    const balance = await this.balances.balance(batchId);
    const { volumeL } = await this.mixes.mix(batchId);
    const { compostVolumeL, pile } = balance;
    const isKnown = volumeL !== null && volumeL > 0;
    return {
      ...balance,
      volumeInL: volumeL,
      yieldByVolumePercent:
        isKnown && compostVolumeL !== null ? Math.round((compostVolumeL / volumeL) * 1000) / 10 : null,
      volumeLostL: isKnown && pile?.outdatedAt === null ? lessL(volumeL, pile.volumeL) : null,
    };
  }
}

/** To the millilitre, which a difference of floating litres would not be. */
function lessL(wholeL: number, partL: number): number {
  const ml = (value: number) => volumeToMl({ value, unit: 'L' });
  const differenceMl = ml(wholeL) - ml(partL);
  return Math.sign(differenceMl) * litresOf(Math.abs(differenceMl));
}
