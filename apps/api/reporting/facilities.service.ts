import { Injectable } from '@nestjs/common';
import type { Facility } from '#libs/documents';
import { kgOf, litresOf } from '#libs/quantities';
import { notFound } from '../http/problems/catalogue.js';
import { daysOf } from './diversion.service.js';
import type { FacilityYearDto, FacilityYearQuery } from './facilities.dto.js';
import { type FacilitiesAsked, FacilitiesRecords, type FacilityRow, type Sql } from './facilities.records.js';

const stages = ['waiting', 'building', 'active', 'curing', 'condemned', 'overs', 'finished'] as const;

/** What forms of states ask of composting sites. */
@Injectable()
export class FacilitiesService {
  constructor(private readonly records: FacilitiesRecords) {}

  /**
   * The yards that stand in a jurisdiction, or one site, by code. The caller's connection sees to it that all is of one moment.
   */
  async of(sql: Sql, asked: FacilitiesAsked): Promise<Facility[]> {
    return (await this.records.of(sql, asked)).map(facilityOf);
  }

  /** One site in a period, or in the reporting year of the jurisdiction it stands in. */
  async yearOf(siteId: string, query: FacilityYearQuery): Promise<FacilityYearDto> {
    const start = await this.records.reportingYearStart(siteId);
    if (start === null) throw notFound('site');
    const { from, to } = daysOf(query, start);
    const [facility] = await this.records.atOneMoment((sql) => this.of(sql, { siteId, from, to }));
    if (!facility) throw notFound('site');
    return { from, to, ...facility };
  }
}

function facilityOf(row: FacilityRow): Facility {
  const { heaps, waterG, receivedByMaterial, receivedByOrigin, bulking, processed, produced, ...told } = row;
  return {
    ...told,
    receivedByMaterial: receivedByMaterial.map(estimatedOf),
    receivedByOrigin: receivedByOrigin.map(massOf),
    bulking: bulking.map(estimatedOf),
    waterKg: kgOf(waterG),
    processed: massOf(processed),
    onSite: stages.map((stage) => {
      const { massG, volumeMl } = heaps.find((heap) => heap.stage === stage) ?? { massG: 0, volumeMl: 0 };
      return { stage, massKg: kgOf(massG), volumeL: litresOrNull(volumeMl) };
    }),
    produced: sizeOf(produced),
    distributed: row.distributed.map(sizeOf),
    residue: row.residue.map(massOf),
  };
}

const litresOrNull = (volumeMl: number | null) => (volumeMl === null ? null : litresOf(volumeMl));

function massOf<T extends { massG: number }>({ massG, ...rest }: T) {
  return { ...rest, massKg: kgOf(massG) };
}

function estimatedOf<T extends { massG: number; estimatedG: number }>({ estimatedG, ...rest }: T) {
  return { ...massOf(rest), estimatedKg: kgOf(estimatedG) };
}

function sizeOf<T extends { massG: number; volumeMl: number | null }>({ volumeMl, ...rest }: T) {
  return { ...massOf(rest), volumeL: litresOrNull(volumeMl) };
}
