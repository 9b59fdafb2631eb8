import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { MixingModule } from '../mixing/mixing.module.js';
import { MonitoringModule } from '../monitoring/monitoring.module.js';
import { GatesModule } from '../release/gates.module.js';
import { DiversionController } from './diversion.controller.js';
import { DiversionRecords } from './diversion.records.js';
import { DiversionService } from './diversion.service.js';
import { FacilitiesController } from './facilities.controller.js';
import { FacilitiesRecords } from './facilities.records.js';
import { FacilitiesService } from './facilities.service.js';
import { GreenhouseController } from './greenhouse.controller.js';
import { HeadroomController } from './headroom.controller.js';
import { HeadroomService } from './headroom.service.js';
import { StoredVolumeService } from './stored-volume.service.js';
import { BatchRecordController } from './batch-record.controller.js';
import { BatchRecordService } from './batch-record.service.js';
import { OnHandController } from './on-hand.controller.js';
import { OnHandRecords } from './on-hand.records.js';
import { SiteOnHandService } from './on-hand.service.js';
import { AccountsRecords } from './record/accounts.records.js';
import { RecordRecords } from './record/record.records.js';
import { SitesModule } from '../sites/sites.module.js';
import { AskedReports } from './reports/asked.service.js';
import { ReportAssembly } from './reports/assembly.service.js';
import { IssuingService } from './reports/issuing.service.js';
import { ReportFilesController } from './reports/report-files.controller.js';
import { ReportsController } from './reports/reports.controller.js';
import { ReportsRecords } from './reports/reports.records.js';
import { ReportsService } from './reports/reports.service.js';
import { ReportRowsRecords } from './reports/rows.records.js';
import { VersionsService } from './reports/versions.service.js';
import { SealsController } from './seals.controller.js';
import { SealsRecords } from './seals.records.js';
import { SealsService } from './seals.service.js';

@Module({
  imports: [SitesModule, BatchesModule, MixingModule, MonitoringModule, GatesModule],
  controllers: [
    SealsController,
    DiversionController,
    BatchRecordController,
    FacilitiesController,
    GreenhouseController,
    HeadroomController,
    OnHandController,
    ReportFilesController,
    ReportsController,
  ],
  providers: [
    SealsRecords,
    SealsService,
    DiversionRecords,
    DiversionService,
    FacilitiesRecords,
    FacilitiesService,
    StoredVolumeService,
    HeadroomService,
    OnHandRecords,
    SiteOnHandService,
    RecordRecords,
    AccountsRecords,
    BatchRecordService,
    AskedReports,
    ReportsRecords,
    ReportRowsRecords,
    ReportAssembly,
    VersionsService,
    IssuingService,
    ReportsService,
  ],
  exports: [SealsService, ReportsService, BatchRecordService],
})
export class ReportingModule {}
