import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { ReportingModule } from '../reporting/reporting.module.js';
import { GatesModule } from './gates.module.js';
import { ReleaseController } from './release.controller.js';
import { SignatureService } from './signature.service.js';

/** The signature. */
@Module({
  imports: [BatchesModule, GatesModule, ReportingModule],
  controllers: [ReleaseController],
  providers: [SignatureService],
})
export class ReleaseModule {}
