import { Inject, Injectable, Logger, type OnApplicationBootstrap } from '@nestjs/common';
import { v7 } from 'uuid';
import { Actor } from '../http/access/actor.js';
import { SETTINGS, type Settings } from '../http/settings.js';
import { Work } from '../http/writes/work.js';
import { hashPassword } from './passwords.js';
import { PeopleRecords } from './people.records.js';

/** Another process, started at the same moment, was quicker. */
class Overtaken extends Error {}

/** Somebody must be able to sign in first: the environment names them, and only an empty database listens. */
@Injectable()
export class FirstCoordinator implements OnApplicationBootstrap {
  private readonly log = new Logger('People');

  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    private readonly work: Work,
    private readonly people: PeopleRecords,
  ) {}

  async onApplicationBootstrap(): Promise<void> {
    const { firstEmail, firstName, firstPassword } = this.settings;
    if (!firstEmail || !firstPassword || (await this.people.anyone())) return;
    if (firstPassword.length < 10)
      throw new Error('HEAPWRIGHT_FIRST_PASSWORD must have at least 10 characters');
    const id = v7();
    const grants = [{ role: 'coordinator' as const, siteId: null, jurisdictionId: null }];
    const passwordHash = await hashPassword(firstPassword);
    const email = firstEmail.toLowerCase();
    try {
      await this.work.write(new Actor(id, firstEmail, id, grants), async (write) => {
        await this.people.holdCoordinators(write);
        if (await this.people.anyone(write)) throw new Overtaken();
        await this.people.insert(write, {
          id,
          email,
          displayName: firstName,
          passwordHash,
          grants,
        });
        const subject = { subjectKind: 'person', subjectId: id, siteId: null };
        write.audit({ action: 'person.added', ...subject, detail: { grants } });
      });
    } catch (error) {
      if (error instanceof Overtaken) return;
      throw error;
    }
    this.log.log(`first coordinator: ${firstEmail}`);
  }
}
