import { type DynamicModule, Module } from '@nestjs/common';
import { BatchesModule } from './batches/batches.module.js';
import { HttpModule } from './http/http.module.js';
import type { Settings } from './http/settings.js';
import { LoggersModule } from './loggers/loggers.module.js';
import { MixingModule } from './mixing/mixing.module.js';
import { MonitoringModule } from './monitoring/monitoring.module.js';
import { IntakeModule } from './intake/intake.module.js';
import { PeopleModule } from './people/people.module.js';
import { RecordsModule } from './records/records.module.js';
import { GatesModule } from './release/gates.module.js';
import { ReleaseModule } from './release/release.module.js';
import { ReportingModule } from './reporting/reporting.module.js';
import { SitesModule } from './sites/sites.module.js';

@Module({})
export class AppModule {
  static with(settings: Settings): DynamicModule {
    return {
      module: AppModule,
      imports: [
        HttpModule.with(settings),
        PeopleModule,
        SitesModule,
        IntakeModule,
        BatchesModule,
        MixingModule,
        LoggersModule,
        MonitoringModule,
        GatesModule,
        ReportingModule,
        ReleaseModule,
        RecordsModule,
      ],
    };
  }
}
