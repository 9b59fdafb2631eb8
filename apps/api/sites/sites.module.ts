import { Module } from '@nestjs/common';
import { ComplaintsController } from './complaints.controller.js';
import { ComplaintsRecords } from './complaints.records.js';
import { ComplaintsService } from './complaints.service.js';
import { ContainersController } from './containers.controller.js';
import { ContainersRecords } from './containers.records.js';
import { ContainersService } from './containers.service.js';
import { InstrumentsController } from './instruments.controller.js';
import { InstrumentsRecords } from './instruments.records.js';
import { InstrumentsService } from './instruments.service.js';
import { JurisdictionsController } from './jurisdictions.controller.js';
import { JurisdictionsRecords } from './jurisdictions.records.js';
import { JurisdictionsService } from './jurisdictions.service.js';
import { MaterialsController } from './materials.controller.js';
import { MaterialsRecords } from './materials.records.js';
import { MaterialsService } from './materials.service.js';
import { MeasurementsController } from './measurements.controller.js';
import { MeasurementsRecords } from './measurements.records.js';
import { MeasurementsService } from './measurements.service.js';
import { PermitsController } from './permits.controller.js';
import { PermitsRecords } from './permits.records.js';
import { PermitsService } from './permits.service.js';
import { PermitUseRecords } from './permit-use.records.js';
import { PermitUseService } from './permit-use.service.js';
import { ProcessRulesController } from './process-rules.controller.js';
import { ProcessRulesRecords } from './process-rules.records.js';
import { ProcessRulesService } from './process-rules.service.js';
import { SiteFactsRecords } from './site-facts.records.js';
import { SiteFactsService } from './site-facts.service.js';
import { SitesController } from './sites.controller.js';
import { SitesRecords } from './sites.records.js';
import { SitesService } from './sites.service.js';
import { StartingMaterials } from './starting-materials.js';
import { VerificationsController } from './verifications.controller.js';
import { VerificationsRecords } from './verifications.records.js';
import { VerificationsService } from './verifications.service.js';

@Module({
  controllers: [
    JurisdictionsController,
    SitesController,
    PermitsController,
    ProcessRulesController,
    MaterialsController,
    MeasurementsController,
    ContainersController,
    InstrumentsController,
    VerificationsController,
    ComplaintsController,
  ],
  providers: [
    JurisdictionsRecords,
    JurisdictionsService,
    SitesRecords,
    SitesService,
    PermitsRecords,
    PermitsService,
    PermitUseRecords,
    PermitUseService,
    ProcessRulesRecords,
    ProcessRulesService,
    MaterialsRecords,
    MaterialsService,
    StartingMaterials,
    MeasurementsRecords,
    MeasurementsService,
    ContainersRecords,
    ContainersService,
    InstrumentsRecords,
    InstrumentsService,
    VerificationsRecords,
    VerificationsService,
    ComplaintsRecords,
    ComplaintsService,
    SiteFactsRecords,
    SiteFactsService,
  ],
  exports: [
    SiteFactsService,
    JurisdictionsService,
    SitesService,
    PermitsService,
    PermitUseService,
    ProcessRulesService,
    MaterialsService,
    InstrumentsService,
  ],
})
export class SitesModule {}
