import { createHash, randomBytes } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { v7 } from 'uuid';
import { dayMs } from '#libs/quantities';
import { Actor } from '../http/access/actor.js';
import { Authenticator } from '../http/access/authenticator.js';
import { Clock } from '../http/clock.js';
import { notFound, Problem } from '../http/problems/catalogue.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { hashPassword, passwordFits } from './passwords.js';
import { PeopleRecords } from './people.records.js';
import { personView } from './people.service.js';
import type { OwnPasswordDto, SessionDto, SignedInDto, SignInDto } from './sessions.dto.js';
import { SessionsRecords } from './sessions.records.js';

const TOKEN_BYTES = 32;
/** A season at the hub without signing in again would be long; a day in a drawer must not sign anybody out. */
const SESSION_DAYS = 30;

const digest = (token: string) => createHash('sha256').update(token).digest();

@Injectable()
export class SessionsService extends Authenticator {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly sessions: SessionsRecords,
    private readonly people: PeopleRecords,
  ) {
    super();
  }

  override async actorOf(token: string): Promise<Actor | null> {
    const owner = await this.sessions.ownerOf(digest(token));
    return owner && new Actor(owner.personId, owner.displayName, owner.sessionId, owner.grants);
  }

  async signIn(dto: SignInDto, userAgent: string | null): Promise<SignedInDto> {
    const person = await this.people.findByEmail(dto.email.toLowerCase());
    const fits = await passwordFits(dto.password, person?.passwordHash ?? null);
    if (!person || !fits || person.disabledAt) throw new Problem('wrong-credentials');
    const token = randomBytes(TOKEN_BYTES).toString('base64url');
    const id = v7();
    const expiresAt = new Date(this.clock.nowMs() + SESSION_DAYS * dayMs);
    const actor = new Actor(person.id, person.displayName, id, person.grants);
    await this.work.writeSql(actor, async (write) => {
      await this.sessions.insert(write.sql, {
        id,
        personId: person.id,
        tokenHash: digest(token),
        userAgent: userAgent?.slice(0, 400) ?? null,
        expiresAt,
      });
      note(write, 'session.opened', id);
    });
    return { id, token, expiresAt: expiresAt.toISOString(), person: personView(person) };
  }

  async list(actor: Actor): Promise<SessionDto[]> {
    const rows = await this.sessions.openOf(actor.personId);
    return rows.map((row) => ({
      id: row.id,
      userAgent: row.userAgent,
      createdAt: row.createdAt.toISOString(),
      expiresAt: row.expiresAt.toISOString(),
    }));
  }

  async signOut(actor: Actor, id: string): Promise<void> {
    await this.work.writeSql(actor, async (write) => {
      if (!(await this.sessions.revoke(write.sql, actor.personId, id))) throw notFound('session');
      note(write, 'session.closed', id);
    });
  }

  /** Whether this is really the person who is signed in: a signature asks again. */
  async requirePassword(actor: Actor, password: string): Promise<void> {
    const person = await this.people.find(actor.personId);
    if (!(await passwordFits(password, person?.passwordHash ?? null))) throw new Problem('wrong-password');
  }

  /** A new password of one's own; every other session ends. */
  async changeOwnPassword(actor: Actor, dto: OwnPasswordDto): Promise<void> {
    await this.requirePassword(actor, dto.currentPassword);
    const person = await this.people.find(actor.personId);
    if (!person) throw notFound('person');
    const passwordHash = await hashPassword(dto.newPassword);
    await this.work.write(actor, async (write) => {
      await this.people.change(write, person.id, person.version, { passwordHash });
      await this.sessions.revokeAll(write.sql, person.id);
      const line = { subjectKind: 'person', subjectId: person.id, siteId: null };
      write.audit({ action: 'person.password-changed', ...line });
    });
  }
}

function note(write: SqlWrite, action: string, id: string): void {
  write.audit({ action, subjectKind: 'session', subjectId: id, siteId: null });
}
