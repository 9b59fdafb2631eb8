import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { ReportingModule } from '../reporting/reporting.module.js';
import { CompostUseController } from './compost-use.controller.js';
import { CompostUseService } from './compost-use.service.js';
import { GatesModule } from './gates.module.js';
import { ReleaseController } from './release.controller.js';
import { SignatureService } from './signature.service.js';
import { TraceModule } from './trace.module.js';

/** The signature, and the use of what it releases. */
@Module({
  imports: [BatchesModule, GatesModule, ReportingModule, TraceModule],
  controllers: [ReleaseController, CompostUseController],
  providers: [SignatureService, CompostUseService],
})
export class ReleaseModule {}
