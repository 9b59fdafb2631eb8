import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { SitesModule } from '../sites/sites.module.js';
import { BuiltService } from './built.service.js';
import { MixController } from './mix.controller.js';
import { MixRecords } from './mix.records.js';
import { MixService } from './mix.service.js';

@Module({
  imports: [SitesModule, BatchesModule],
  controllers: [MixController],
  providers: [MixRecords, BuiltService, MixService],
  exports: [MixService],
})
export class MixingModule {}
