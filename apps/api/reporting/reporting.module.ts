import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { MixingModule } from '../mixing/mixing.module.js';
import { MonitoringModule } from '../monitoring/monitoring.module.js';
import { GatesModule } from '../release/gates.module.js';
import { DiversionController } from './diversion.controller.js';
import { DiversionRecords } from './diversion.records.js';
import { DiversionService } from './diversion.service.js';
import { BatchRecordController } from './batch-record.controller.js';
import { BatchRecordService } from './batch-record.service.js';
import { OnHandController } from './on-hand.controller.js';
import { OnHandRecords } from './on-hand.records.js';
import { SiteOnHandService } from './on-hand.service.js';
import { RecordRecords } from './record/record.records.js';
import { SitesModule } from '../sites/sites.module.js';
import { SealsController } from './seals.controller.js';
import { SealsRecords } from './seals.records.js';
import { SealsService } from './seals.service.js';

@Module({
  imports: [SitesModule, BatchesModule, MixingModule, MonitoringModule, GatesModule],
  controllers: [SealsController, DiversionController, BatchRecordController, OnHandController],
  providers: [
    SealsRecords,
    SealsService,
    OnHandRecords,
    SiteOnHandService,
    DiversionRecords,
    DiversionService,
    RecordRecords,
    BatchRecordService,
  ],
  exports: [SealsService, BatchRecordService],
})
export class ReportingModule {}
