import { Module } from '@nestjs/common';
import { SitesModule } from '../sites/sites.module.js';
import { AccountsController } from './accounts.controller.js';
import { AmendmentsController } from './amendments.controller.js';
import { AmendmentsRecords } from './amendments.records.js';
import { AmendmentsService } from './amendments.service.js';
import { AssignmentsController } from './assignments.controller.js';
import { AssignmentsRecords } from './assignments.records.js';
import { AssignmentsService } from './assignments.service.js';
import { BalanceService } from './balance.service.js';
import { BatchFlowsService } from './batch-flows.service.js';
import { BatchesController } from './batches.controller.js';
import { BatchesRecords } from './batches.records.js';
import { BatchesService } from './batches.service.js';
import { FlowsRecords } from './flows.records.js';
import { LineageRecords } from './lineage.records.js';
import { LineageService } from './lineage.service.js';
import { MergesController } from './merges.controller.js';
import { MergesRecords } from './merges.records.js';
import { MergesService } from './merges.service.js';
import { MovesService } from './moves.service.js';
import { PileMeasurementsRecords } from './pile-measurements.records.js';
import { PileMeasurementsService } from './pile-measurements.service.js';
import { StagesService } from './stages.service.js';
import { StaysRecords } from './stays.records.js';

@Module({
  imports: [SitesModule],
  controllers: [
    BatchesController,
    AssignmentsController,
    AmendmentsController,
    MergesController,
    AccountsController,
  ],
  providers: [
    BatchesRecords,
    StaysRecords,
    FlowsRecords,
    PileMeasurementsRecords,
    AssignmentsRecords,
    AmendmentsRecords,
    LineageRecords,
    MergesRecords,
    BatchesService,
    StagesService,
    MovesService,
    PileMeasurementsService,
    MergesService,
    AssignmentsService,
    AmendmentsService,
    BatchFlowsService,
    BalanceService,
    LineageService,
  ],
  exports: [BatchesService, MergesService, PileMeasurementsService, BatchFlowsService, BalanceService],
})
export class BatchesModule {}
