import { Global, Module } from '@nestjs/common';
import { DeviceAuthenticator } from '../http/access/device.js';
import { BatchesModule } from '../batches/batches.module.js';
import { SitesModule } from '../sites/sites.module.js';
import { DeviceKeysController } from './device-keys.controller.js';
import { DeviceKeysRecords } from './device-keys.records.js';
import { DeviceKeysService } from './device-keys.service.js';
import { LoggerDoubtsRecords } from './logger-doubts.records.js';
import { LoggerDoubtsService } from './logger-doubts.service.js';
import { LoggerIngestService } from './logger-ingest.service.js';
import { LoggerReadingsController } from './logger-readings.controller.js';
import { LoggerReadingsRecords } from './logger-readings.records.js';
import { LoggerReadingsService } from './logger-readings.service.js';
import { LoggerSeriesService } from './logger-series.service.js';
import { SeriesRecords } from './series.records.js';
import { SetAsideController } from './set-aside.controller.js';
import { SetAsideRecords } from './set-aside.records.js';
import { SetAsideService } from './set-aside.service.js';

/** Global, because the guard of every route asks it whose key a token is. */
@Global()
@Module({
  imports: [SitesModule, BatchesModule],
  controllers: [DeviceKeysController, LoggerReadingsController, SetAsideController],
  providers: [
    ...[DeviceKeysRecords, DeviceKeysService],
    ...[LoggerReadingsRecords, LoggerIngestService, LoggerReadingsService],
    ...[SeriesRecords, LoggerSeriesService],
    ...[LoggerDoubtsRecords, LoggerDoubtsService],
    ...[SetAsideRecords, SetAsideService],
    { provide: DeviceAuthenticator, useExisting: DeviceKeysService },
  ],
  exports: [
    DeviceAuthenticator,
    DeviceKeysService,
    LoggerIngestService,
    LoggerSeriesService,
    LoggerDoubtsService,
    SetAsideService,
  ],
})
export class LoggersModule {}
