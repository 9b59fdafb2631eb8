import { Module } from '@nestjs/common';
import { BatchesModule } from '../batches/batches.module.js';
import { SitesModule } from '../sites/sites.module.js';
import { AdditionsController } from './additions.controller.js';
import { AdditionsService } from './additions.service.js';
import { BalanceController } from './balance.controller.js';
import { BuiltService } from './built.service.js';
import { MixController } from './mix.controller.js';
import { MixRecords } from './mix.records.js';
import { MixService } from './mix.service.js';
import { PileMeasurementsController } from './pile-measurements.controller.js';
import { OnHandService } from './on-hand.service.js';
import { RecipeUseService } from './recipe-use.service.js';
import { BatchRecipeController, RecipesController } from './recipes.controller.js';
import { RecipesRecords } from './recipes.records.js';
import { RecipesService } from './recipes.service.js';
import { SolverService } from './solver.service.js';
import { StockController, StockCountsController } from './stock.controller.js';
import { StockCountsService } from './stock-counts.service.js';
import { StockRecords } from './stock.records.js';
import { StockService } from './stock.service.js';
import { WaitingRecords } from './waiting.records.js';
import { WantedController } from './wanted.controller.js';
import { WantedService } from './wanted.service.js';
import { WatchedPilesService } from './watched-piles.service.js';
import { WholeBalanceService } from './whole-balance.service.js';

@Module({
  imports: [SitesModule, BatchesModule],
  controllers: [
    MixController,
    BalanceController,
    PileMeasurementsController,
    AdditionsController,
    StockCountsController,
    StockController,
    RecipesController,
    BatchRecipeController,
    WantedController,
  ],
  providers: [
    MixRecords,
    BuiltService,
    MixService,
    SolverService,
    AdditionsService,
    StockRecords,
    StockService,
    OnHandService,
    StockCountsService,
    RecipesRecords,
    RecipesService,
    WaitingRecords,
    RecipeUseService,
    WantedService,
    WholeBalanceService,
    WatchedPilesService,
  ],
  exports: [MixService, StockService],
})
export class MixingModule {}
