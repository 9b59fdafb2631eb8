import { Module } from '@nestjs/common';
import { RecallController } from './recall.controller.js';
import { RecallService } from './recall.service.js';
import { TraceController } from './trace.controller.js';
import { TraceRecords } from './trace.records.js';
import { TraceService } from './trace.service.js';

/** Where things went and came from. It reads what all areas recorded, and none of them needs it. */
@Module({
  controllers: [TraceController, RecallController],
  providers: [TraceRecords, TraceService, RecallService],
})
export class TraceModule {}
