import { type DynamicModule, Module } from '@nestjs/common';
import { HttpModule } from './http/http.module.js';
import type { Settings } from './http/settings.js';
import { PeopleModule } from './people/people.module.js';
import { ReportingModule } from './reporting/reporting.module.js';
import { SitesModule } from './sites/sites.module.js';

@Module({})
export class AppModule {
  static with(settings: Settings): DynamicModule {
    return {
      module: AppModule,
      imports: [HttpModule.with(settings), PeopleModule, SitesModule, ReportingModule],
    };
  }
}
