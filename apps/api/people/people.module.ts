import { Global, Module } from '@nestjs/common';
import { ThrottlerModule } from '@nestjs/throttler';
import { Authenticator } from '../http/access/authenticator.js';
import { FirstCoordinator } from './first-coordinator.js';
import { PeopleController } from './people.controller.js';
import { PeopleRecords } from './people.records.js';
import { PeopleService } from './people.service.js';
import { SessionsController } from './sessions.controller.js';
import { SessionsRecords } from './sessions.records.js';
import { SessionsService } from './sessions.service.js';

/** Global, because the guard of every route asks it who a token belongs to. */
@Global()
@Module({
  imports: [ThrottlerModule.forRoot([{ ttl: 60_000, limit: 1_000 }])],
  controllers: [SessionsController, PeopleController],
  providers: [
    PeopleRecords,
    PeopleService,
    SessionsRecords,
    SessionsService,
    FirstCoordinator,
    { provide: Authenticator, useExisting: SessionsService },
  ],
  exports: [Authenticator, SessionsService],
})
export class PeopleModule {}
