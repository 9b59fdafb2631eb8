import { Inject, Injectable } from '@nestjs/common';
import { type CompostLabel, compostLabelPdf } from '#libs/documents';
import { kgOf, litresOf } from '#libs/quantities';
import { Temporal } from 'temporal-polyfill';
import { notFound, Problem } from '../http/problems/catalogue.js';
import { SETTINGS, type Settings } from '../http/settings.js';
import { type LabelRow, LabelsRecords } from './labels.records.js';

/** Labels for compost that leaves. */
@Injectable()
export class LabelsService {
  constructor(
    private readonly labels: LabelsRecords,
    @Inject(SETTINGS) private readonly settings: Settings,
  ) {}

  /** A label says that compost may go out: there is none of what was taken back, or while the batch is on hold. */
  async pdf(batchId: string, distributionId: string): Promise<{ bytes: Uint8Array; fileName: string }> {
    const row = await this.labels.find(batchId, distributionId);
    if (!row) throw notFound('distribution');
    if (row.voided) throw new Problem('conflict', 'The distribution was taken back.');
    if (row.onHold) throw new Problem('batch-on-hold', 'It gets no label while its batch is on hold.');
    const bytes = await compostLabelPdf(this.labelOf(row));
    return { bytes, fileName: `label-${row.code.replaceAll(/[^\w.-]/g, '-')}.pdf` };
  }

  private labelOf({ batch, code, site, use, publicSeal, ...row }: LabelRow): CompostLabel {
    const { programme, publicUrl } = this.settings;
    const left = Temporal.Instant.fromEpochMilliseconds(row.occurredAt.getTime());
    return {
      ...{ programme, site, batch, code, use },
      on: left.toZonedDateTimeISO(row.timeZone).toPlainDate().toString(),
      massKg: kgOf(row.massG),
      volumeL: row.volumeMl === null ? null : litresOf(row.volumeMl),
      weighed: row.basis === 'scale',
      recordUrl: publicUrl === '' || publicSeal === null ? null : `${publicUrl}/record/${publicSeal}`,
    };
  }
}
