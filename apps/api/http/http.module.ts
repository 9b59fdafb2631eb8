import { type DynamicModule, Global, Module, type OnApplicationShutdown } from '@nestjs/common';
import { APP_FILTER, APP_GUARD, APP_PIPE } from '@nestjs/core';
import { Database } from '#libs/database';
import { AccessGuard } from './access/guard.js';
import { ScopeRecords } from './access/scope.records.js';
import { Clock } from './clock.js';
import { UnaskedGuard } from './dto/unasked.js';
import { ReadingPipe } from './dto/validation.js';
import { HealthController } from './health.controller.js';
import { ProblemFilter } from './problems/filter.js';
import { SETTINGS, type Settings } from './settings.js';
import { TableStreams } from './table-streams.js';
import { SettingWork } from './writes/setting-work.js';
import { Work } from './writes/work.js';

@Global()
@Module({})
export class HttpModule implements OnApplicationShutdown {
  constructor(private readonly database: Database) {}

  static with(settings: Settings): DynamicModule {
    return {
      module: HttpModule,
      controllers: [HealthController],
      providers: [
        { provide: SETTINGS, useValue: settings },
        {
          provide: Database,
          useFactory: () => new Database({ url: settings.databaseUrl, max: settings.poolSize }),
        },
        Clock,
        Work,
        SettingWork,
        TableStreams,
        ScopeRecords,
        { provide: APP_GUARD, useClass: AccessGuard },
        { provide: APP_GUARD, useClass: UnaskedGuard },
        { provide: APP_FILTER, useClass: ProblemFilter },
        { provide: APP_PIPE, useClass: ReadingPipe },
      ],
      exports: [SETTINGS, Database, Clock, Work, SettingWork, TableStreams],
    };
  }

  /** After the last request is answered; Nest's earlier hooks run while some are still at work. */
  async onApplicationShutdown(): Promise<void> {
    await this.database.close();
  }
}
