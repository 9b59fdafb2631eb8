import { Injectable } from '@nestjs/common';
import { type MassUse, type ReportingYear, volumeUse, volumeWarnings } from '#libs/accounting';
import { kgOf } from '#libs/quantities';
import { Clock } from '../http/clock.js';
import { PermitUseService } from '../sites/permit-use.service.js';
import type { HeadroomDto } from './headroom.dto.js';
import { StoredVolumeService } from './stored-volume.service.js';

const METHOD =
  'Taken in: what was dropped off here less what was pulled, what hauls brought, and lots of other sites that went ' +
  'straight into a batch of this one; nothing that was bought for stock. The projection adds, for each day that is left ' +
  'after today, a mean day of the eight weeks before today, or of fewer where the site took nothing in before. Stored: each ' +
  'batch by its pile as it was measured last, else by the volumes that went into its mix, which settle and so are high.';

/** How much room a site has under its permit, now and at the end of the year and the week: docs/accounting.md §10. */
@Injectable()
export class HeadroomService {
  constructor(
    private readonly uses: PermitUseService,
    private readonly stored: StoredVolumeService,
    private readonly clock: Clock,
  ) {}

  /** Refuses (404) when there is no such site. */
  async of(siteId: string): Promise<HeadroomDto> {
    const { today, permit, year, week, recent, notNamed, warnings } = await this.uses.of(
      siteId,
      this.clock.nowMs(),
    );
    const parts = await this.stored.of(siteId);
    const volume = volumeUse(
      parts.map(({ name, volumeMl }) => ({ name, volumeMl })),
      permit?.storedVolumeMaxMl ?? null,
    );
    return {
      ...{ siteId, today },
      permit: permit && {
        ...{ id: permit.id, reference: permit.reference },
        ...{ validFrom: permit.validFrom, validTo: permit.validTo },
      },
      stored: {
        volumeL: litres(volume.usedMl),
        unknown: [...volume.unknown],
        limitL: orNull(volume.limitMl, litres),
        leftL: orNull(volume.leftMl, litres),
        share: volume.share,
        parts: parts.map(({ volumeMl, ...part }) => ({ ...part, volumeL: orNull(volumeMl, litres) })),
      },
      ...{ year: spanView(year), week: spanView(week) },
      recent: { days: recent.days, massKg: kgOf(recent.massG) },
      notNamed: notNamed.map(({ massG, ...one }) => ({ ...one, massKg: kgOf(massG) })),
      warnings: [...warnings, ...volumeWarnings(volume)],
      method: METHOD,
    };
  }
}

function spanView({ from, to, usedG, limitG, leftG, share, projectedG }: ReportingYear & MassUse) {
  return {
    ...{ from, to, share, usedKg: kgOf(usedG) },
    limitKg: orNull(limitG, kgOf),
    leftKg: orNull(leftG, kgOf),
    projectedKg: orNull(projectedG, kgOf),
  };
}

/** Below nothing too, which is what is left beyond a limit. */
const litres = (ml: number): number => ml / 1000;

function orNull(value: number | null, of: (value: number) => number): number | null {
  return value === null ? null : of(value);
}
