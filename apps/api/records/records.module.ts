import { Module } from '@nestjs/common';
import { ReportingModule } from '../reporting/reporting.module.js';
import { AuditSealing } from './audit-sealing.js';
import { AuditController } from './audit.controller.js';
import { AuditRecords } from './audit.records.js';
import { AuditService } from './audit.service.js';

@Module({
  imports: [ReportingModule],
  controllers: [AuditController],
  providers: [AuditRecords, AuditService, AuditSealing],
})
export class RecordsModule {}
