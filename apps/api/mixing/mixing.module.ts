import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { SitesModule } from '../sites/sites.module.js';
import { BuiltService } from './built.service.js';
import { MixController } from './mix.controller.js';
import { MixRecords } from './mix.records.js';
import { MixService } from './mix.service.js';
import { StockController, StockCountsController } from './stock.controller.js';
import { StockCountsService } from './stock-counts.service.js';
import { StockRecords } from './stock.records.js';
import { StockService } from './stock.service.js';

@Module({
  imports: [SitesModule, BatchesModule],
  controllers: [MixController, StockCountsController, StockController],
  providers: [MixRecords, BuiltService, MixService, StockRecords, StockService, StockCountsService],
  exports: [MixService],
})
export class MixingModule {}
