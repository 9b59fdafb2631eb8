import { Injectable } from '@nestjs/common';
import {
  contradictionsIn,
  doubtsIn,
  eachFigure,
  type MaterialFigure,
  type MaterialFigures,
  type MaterialKind,
} from '#libs/materials';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { happenedAt } from '../http/dto/time.js';
import { invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { bodyDigest, type Recorded, requireSameBody } from '../http/writes/replay.js';
import { voidedBefore } from '../http/writes/write-once.js';
import { MaterialsRecords } from './materials.records.js';
import { measuredFigures } from './measured-figures.js';
import type { MeasurementDto, MeasurementsQuery, NewMeasurementDto } from './measurements.dto.js';
import {
  type MeasuredFigures,
  type MeasurementRow,
  MeasurementsRecords,
  type NewMeasurement,
} from './measurements.records.js';
import { SiteFactsRecords } from './site-facts.records.js';
import { SiteFactsService } from './site-facts.service.js';

/** What a laboratory or the crew measured of the materials of a site. */
@Injectable()
export class MeasurementsService {
  constructor(
    private readonly measurements: MeasurementsRecords,
    private readonly materials: MaterialsRecords,
    private readonly sites: SiteFactsRecords,
    private readonly facts: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  async record(actor: Actor, dto: NewMeasurementDto): Promise<Recorded<MeasurementDto>> {
    const before = dto.id === undefined ? null : await this.measurements.find(dto.id);
    if (before) return this.sentBefore(before, dto);
    const measurement = await this.newMeasurementOf(dto);
    const isNew = await this.measurements.keep(actor, measurement);
    const row = await this.find(measurement.id);
    return isNew ? { replayed: false, body: await this.told(row) } : this.sentBefore(row, dto);
  }

  async list(actor: Actor, query: MeasurementsQuery): Promise<Page<MeasurementDto>> {
    const after = keyOf(query.cursor, 'instant', 'id');
    const rows = await this.measurements.page({
      sites: actor.sitesFor('operator', query.siteId),
      material: query.material ?? null,
      limit: query.limit,
      after: after && { occurredAt: String(after[0]), id: String(after[1]) },
    });
    const listed = await this.listed(rows);
    const told = (row: MeasurementRow) => view(row, listed.get(row.material));
    return pageOf(rows, query.limit, (row) => [row.occurredAt.toISOString(), row.id], told);
  }

  async get(id: string): Promise<MeasurementDto> {
    return this.told(await this.find(id));
  }

  /** Sent again with the same reason it is answered as it stands. */
  async void(actor: Actor, id: string, reason: string): Promise<MeasurementDto> {
    const before = await this.find(id);
    if (!voidedBefore(before, reason) && !(await this.measurements.void(actor, id, reason)))
      voidedBefore(await this.find(id), reason);
    return this.told(await this.find(id));
  }

  private async newMeasurementOf(dto: NewMeasurementDto): Promise<NewMeasurement> {
    const siteId = dto.siteId.toLowerCase();
    const occurredAt = happenedAt(dto.occurredAt, this.clock.nowMs());
    if (!(await this.sites.site(siteId))) throw invalid('/siteId', 'is no site of the programme');
    const material = await this.materials.find(dto.material);
    if (!material) throw invalid('/material', `"${dto.material}" is no material of the list`);
    const figures = measuredFigures(dto);
    requirePossible(material.kind as MaterialKind, figures);
    const { moisture, bulkDensity, by, reference = null, note = null } = dto;
    const entered = { ...(moisture && { moisture }), ...(bulkDensity && { bulkDensity }) };
    return {
      ...{ id: idOr(dto.id), siteId, material: material.code, occurredAt, by, reference, note, entered },
      ...figures,
      bodySha256: bodyDigest(dto),
    };
  }

  private async find(id: string): Promise<MeasurementRow> {
    const row = await this.measurements.find(id);
    if (!row) throw notFound('measurement');
    return row;
  }

  private async sentBefore(row: MeasurementRow, dto: NewMeasurementDto): Promise<Recorded<MeasurementDto>> {
    requireSameBody(row.bodySha256, bodyDigest(dto));
    return { replayed: true, body: await this.told(row) };
  }

  private async told(row: MeasurementRow): Promise<MeasurementDto> {
    return view(row, (await this.listed([row])).get(row.material));
  }

  /** What the programme's list says of the materials that were measured. */
  private async listed(rows: readonly MeasurementRow[]): Promise<Map<string, MaterialFigures>> {
    const codes = [...new Set(rows.map(({ material }) => material))];
    const figures = codes.length === 0 ? [] : await this.facts.materialFigures(codes);
    return new Map(figures.map((material) => [material.code, material]));
  }
}

const fieldOf = (figure: MaterialFigure) =>
  figure === 'moisturePercent' ? 'moisture' : figure === 'bulkDensityKgM3' ? 'bulkDensity' : figure;

/** What one sample says of a material must be possible by itself. */
function requirePossible(kind: MaterialKind, figures: MeasuredFigures): void {
  const points = eachFigure((figure) => {
    const typical = figures[figure];
    return typical === null ? null : { typical, min: null, max: null };
  });
  const faults = contradictionsIn(kind, points).map(({ figures: [figure], detail }) => ({
    pointer: `/${fieldOf(figure)}`,
    detail,
  }));
  if (faults.length > 0) throw new Problem('invalid', faults[0]?.detail, faults);
}

function view(
  { bodySha256: _, ...row }: MeasurementRow,
  listed: MaterialFigures | undefined,
): MeasurementDto {
  const doubts = listed ? doubtsIn(listed, row) : [];
  return {
    ...row,
    warnings: doubts.map(({ code, figure, text }) => ({ code, text, pointer: `/${fieldOf(figure)}` })),
    occurredAt: row.occurredAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
    voidedAt: row.voidedAt?.toISOString() ?? null,
  };
}
