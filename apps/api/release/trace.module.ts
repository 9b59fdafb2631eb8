import { Module } from '@nestjs/common';
import { PublicRecordsController } from './public-records.controller.js';
import { PublicRecordsRecords } from './public-records.records.js';
import { PublicRecordsService } from './public-records.service.js';
import { RecallController } from './recall.controller.js';
import { RecallService } from './recall.service.js';
import { TraceController } from './trace.controller.js';
import { TraceRecords } from './trace.records.js';
import { TraceService } from './trace.service.js';

/** Where things went and came from, and what anybody may know of a batch. It reads what all areas recorded, and none of them needs it. */
@Module({
  controllers: [TraceController, RecallController, PublicRecordsController],
  providers: [TraceRecords, TraceService, RecallService, PublicRecordsRecords, PublicRecordsService],
})
export class TraceModule {}
