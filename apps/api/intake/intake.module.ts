import { Module } from '@nestjs/common';
import { SitesModule } from '../sites/sites.module.js';
import { DropOffsController } from './drop-offs.controller.js';
import { DropOffsRecords } from './drop-offs.records.js';
import { DropOffsService } from './drop-offs.service.js';
import { EntriesService } from './entries.service.js';
import { HaulReceiptsRecords } from './haul-receipts.records.js';
import { HaulReceiptsService } from './haul-receipts.service.js';
import { HaulsController } from './hauls.controller.js';
import { HaulsRecords } from './hauls.records.js';
import { HaulsService } from './hauls.service.js';
import { ImportIntakeService } from './import-intake.service.js';
import { LotWritesRecords } from './lot-writes.records.js';
import { LotsService } from './lots.service.js';
import { RefusalsController } from './refusals.controller.js';
import { RefusalsRecords } from './refusals.records.js';
import { RefusalsService } from './refusals.service.js';
import { RevisionsService } from './revisions.service.js';
import { ShiftsController } from './shifts.controller.js';
import { ShiftsRecords } from './shifts.records.js';
import { ShiftsService } from './shifts.service.js';
import { UndoService } from './undo.service.js';

@Module({
  imports: [SitesModule],
  controllers: [ShiftsController, DropOffsController, RefusalsController, HaulsController],
  providers: [
    ShiftsRecords,
    ShiftsService,
    LotsService,
    EntriesService,
    LotWritesRecords,
    DropOffsRecords,
    DropOffsService,
    RevisionsService,
    RefusalsRecords,
    RefusalsService,
    UndoService,
    ImportIntakeService,
    HaulsRecords,
    HaulsService,
    HaulReceiptsRecords,
    HaulReceiptsService,
  ],
  exports: [DropOffsService, ImportIntakeService],
})
export class IntakeModule {}
