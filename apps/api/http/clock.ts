import { Injectable } from '@nestjs/common';

/** The one place that knows what time it is. */
@Injectable()
export class Clock {
  nowMs(): number {
    return Date.now();
  }
}
