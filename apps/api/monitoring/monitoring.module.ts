import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { LoggersModule } from '../loggers/loggers.module.js';
import { MixingModule } from '../mixing/mixing.module.js';
import { SitesModule } from '../sites/sites.module.js';
import { AdviceController } from './advice.controller.js';
import { AdviceRecords } from './advice.records.js';
import { AdviceService } from './advice.service.js';
import { CautionsRecords } from './cautions.records.js';
import { CautionsService } from './cautions.service.js';
import { ChecksController } from './checks.controller.js';
import { ChecksRecords } from './checks.records.js';
import { ChecksService } from './checks.service.js';
import { ProcessAnswerService } from './process-answer.service.js';
import { ProcessController } from './process.controller.js';
import { ProcessService } from './process.service.js';
import { ReadingOnService } from './reading-on.service.js';
import { TurnsController } from './turns.controller.js';
import { TurnsRecords } from './turns.records.js';
import { TurnsService } from './turns.service.js';
import { WateringsController } from './waterings.controller.js';
import { WateringsRecords } from './waterings.records.js';
import { WateringsService } from './waterings.service.js';

@Module({
  imports: [SitesModule, BatchesModule, MixingModule, LoggersModule],
  controllers: [ChecksController, TurnsController, WateringsController, ProcessController, AdviceController],
  providers: [
    ...[ChecksRecords, ChecksService],
    ...[TurnsRecords, TurnsService],
    ...[WateringsRecords, WateringsService],
    ...[AdviceRecords, AdviceService],
    ...[CautionsRecords, CautionsService],
    ReadingOnService,
    ProcessService,
    ProcessAnswerService,
  ],
  exports: [ProcessService],
})
export class MonitoringModule {}
