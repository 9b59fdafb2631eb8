import { Module } from '@nestjs/common';
import { SealsController } from './seals.controller.js';
import { SealsRecords } from './seals.records.js';
import { SealsService } from './seals.service.js';

@Module({
  controllers: [SealsController],
  providers: [SealsRecords, SealsService],
  exports: [SealsService],
})
export class ReportingModule {}
