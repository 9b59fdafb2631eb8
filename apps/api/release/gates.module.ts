import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { MonitoringModule } from '../monitoring/monitoring.module.js';
import { SitesModule } from '../sites/sites.module.js';
import { DistributionsController } from './distributions.controller.js';
import { DistributionsRecords } from './distributions.records.js';
import { DistributionsService } from './distributions.service.js';
import { GatesController } from './gates.controller.js';
import { GatesService } from './gates.service.js';
import { HoldsController } from './holds.controller.js';
import { HoldsRecords } from './holds.records.js';
import { HoldsService } from './holds.service.js';
import { LabelsRecords } from './labels.records.js';
import { LabelsService } from './labels.service.js';
import { OutputsRecords } from './outputs.records.js';
import { OutputsService } from './outputs.service.js';
import { ReadinessController } from './readiness.controller.js';
import { ReadinessService } from './readiness.service.js';
import { ReleaseFactsService } from './release-facts.service.js';
import { ReleasesRecords } from './releases.records.js';
import { RuleMicrobesService } from './rule-microbes.service.js';
import { SamplesController } from './samples.controller.js';
import { SamplesRecords } from './samples.records.js';
import { SamplesService } from './samples.service.js';
import { ScreeningsController } from './screenings.controller.js';
import { ScreeningsRecords } from './screenings.records.js';
import { ScreeningsService } from './screenings.service.js';

/** Everything about a release but the signature, which needs the batch record, which needs this. */
@Module({
  imports: [SitesModule, BatchesModule, MonitoringModule],
  controllers: [
    SamplesController,
    ScreeningsController,
    DistributionsController,
    GatesController,
    ReadinessController,
    HoldsController,
  ],
  providers: [
    ...[OutputsRecords, OutputsService],
    ...[SamplesRecords, SamplesService, RuleMicrobesService],
    ...[ScreeningsRecords, ScreeningsService],
    ...[DistributionsRecords, DistributionsService, LabelsRecords, LabelsService],
    ...[ReleasesRecords, ReleaseFactsService, GatesService],
    ReadinessService,
    ...[HoldsRecords, HoldsService],
  ],
  exports: [GatesService, HoldsService, ReleaseFactsService, OutputsService],
})
export class GatesModule {}
