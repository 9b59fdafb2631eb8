import { Injectable } from '@nestjs/common';
import type { Actor, Grant } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { invalid, notFound } from '../http/problems/catalogue.js';
import { Work } from '../http/writes/work.js';
import { hashPassword } from './passwords.js';
import type { GrantDto, NewPersonDto, PersonChangeDto, PersonDto } from './people.dto.js';
import { PeopleRecords, type PersonRow } from './people.records.js';
import { SessionsRecords } from './sessions.records.js';

/** A role is bound to a site, to a jurisdiction or to neither; the database holds the same rule. */
function grantOf(dto: GrantDto, index: number): Grant {
  const { role, siteId = null, jurisdictionId = null } = dto;
  const atSite = role === 'volunteer' || role === 'operator' || role === 'manager';
  if (atSite !== (siteId !== null)) {
    throw invalid(
      `/grants/${index}/siteId`,
      atSite ? `${role} is a role at a site` : `${role} is not bound to a site`,
    );
  }
  if ((role === 'municipal-reader') !== (jurisdictionId !== null)) {
    throw invalid(`/grants/${index}/jurisdictionId`, 'goes with municipal-reader, and only with it');
  }
  return { role, siteId, jurisdictionId };
}

export function personView(row: PersonRow): PersonDto {
  return {
    id: row.id,
    email: row.email,
    displayName: row.displayName,
    disabled: row.disabledAt !== null,
    grants: row.grants,
    version: row.version,
    createdAt: row.createdAt.toISOString(),
  };
}

@Injectable()
export class PeopleService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly people: PeopleRecords,
    private readonly sessions: SessionsRecords,
  ) {}

  async list(query: PageQuery): Promise<Page<PersonDto>> {
    const after = keyOf(query.cursor, 'id');
    const rows = await this.people.page(query.limit, after && String(after[0]));
    return pageOf(rows, query.limit, (row) => [row.id], personView);
  }

  async get(id: string): Promise<PersonDto> {
    const row = await this.people.find(id);
    if (!row) throw notFound('person');
    return personView(row);
  }

  async create(actor: Actor, dto: NewPersonDto): Promise<PersonDto> {
    const id = idOr(dto.id);
    const grants = dto.grants.map(grantOf);
    const passwordHash = await hashPassword(dto.password);
    await this.work.write(actor, async (write) => {
      await this.people.insert(write, {
        id,
        email: dto.email.toLowerCase(),
        displayName: dto.displayName,
        passwordHash,
        grants,
      });
      write.audit({
        action: 'person.added',
        subjectKind: 'person',
        subjectId: id,
        siteId: null,
        detail: { grants },
      });
    });
    return this.get(id);
  }

  async change(actor: Actor, id: string, version: number, dto: PersonChangeDto): Promise<PersonDto> {
    if (dto.disabled && id === actor.personId) throw invalid('/disabled', 'nobody disables themselves');
    await this.get(id);
    const grants = dto.grants?.map(grantOf);
    const change = {
      ...(dto.displayName === undefined ? {} : { displayName: dto.displayName }),
      ...(dto.password === undefined ? {} : { passwordHash: await hashPassword(dto.password) }),
      ...(dto.disabled === undefined
        ? {}
        : { disabledAt: dto.disabled ? new Date(this.clock.nowMs()) : null }),
    };
    const mayEndCoordinator = grants !== undefined || dto.disabled === true;
    await this.work.write(actor, async (write) => {
      if (mayEndCoordinator) await this.people.holdCoordinators(write);
      await this.people.change(write, id, version, change);
      if (grants) await this.people.replaceGrants(write, id, grants);
      if (mayEndCoordinator && !(await this.people.anyCoordinator(write)))
        throw invalid(grants ? '/grants' : '/disabled', 'nobody would be left who is a coordinator');
      // A new password or a disabled account ends what was signed in under the old one.
      if (dto.disabled || dto.password !== undefined) await this.sessions.revokeAll(write.sql, id);
      const detail = { fields: Object.keys(dto), ...(grants ? { grants } : {}) };
      write.audit({ action: 'person.changed', subjectKind: 'person', subjectId: id, siteId: null, detail });
    });
    return this.get(id);
  }
}
