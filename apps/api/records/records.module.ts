import { Module } from '@nestjs/common';
import { IntakeModule } from '../intake/intake.module.js';
import { LoggersModule } from '../loggers/loggers.module.js';
import { ReportingModule } from '../reporting/reporting.module.js';
import { SitesModule } from '../sites/sites.module.js';
import { AuditSealing } from './audit-sealing.js';
import { AuditController } from './audit.controller.js';
import { AuditRecords } from './audit.records.js';
import { AuditService } from './audit.service.js';
import { ExportsController } from './exports.controller.js';
import { ExportsRecords } from './exports.records.js';
import { ExportsService } from './exports.service.js';
import { ImportReader } from './import-reader.js';
import { ImportsController } from './imports.controller.js';
import { ImportsRecords } from './imports.records.js';
import { ImportsService } from './imports.service.js';
import { LoggerImportsController } from './logger-imports.controller.js';
import { LoggerImportsService } from './logger-imports.service.js';

@Module({
  imports: [ReportingModule, SitesModule, IntakeModule, LoggersModule],
  controllers: [AuditController, ExportsController, ImportsController, LoggerImportsController],
  providers: [
    AuditRecords,
    AuditService,
    AuditSealing,
    ExportsRecords,
    ExportsService,
    ImportsRecords,
    ImportReader,
    ImportsService,
    LoggerImportsService,
  ],
})
export class RecordsModule {}
