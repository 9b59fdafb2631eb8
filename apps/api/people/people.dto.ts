import { type Role, roles } from '../http/access/actor.js';
import { Email, Flag, Instant, ListOf, OneOf, Text, Uuid, Whole } from '../http/dto/fields.js';

export class GrantDto {
  @OneOf(roles) role!: Role;
  @Uuid({ optional: true, nullable: true, description: 'For volunteer, operator and manager' }) siteId?:
    string | null;
  @Uuid({ optional: true, nullable: true, description: 'For municipal-reader' }) jurisdictionId?:
    string | null;
}

const PASSWORD_MIN = 10;
const PASSWORD_MAX = 200;

export class NewPersonDto {
  @Uuid({ optional: true }) id?: string;
  @Email() email!: string;
  @Text(120) displayName!: string;
  @Text(PASSWORD_MAX, { min: PASSWORD_MIN }) password!: string;
  @ListOf(() => GrantDto, 200) grants!: GrantDto[];
}

export class PersonChangeDto {
  @Text(120, { optional: true }) displayName?: string;
  @Text(PASSWORD_MAX, { min: PASSWORD_MIN, optional: true }) password?: string;
  @Flag({ optional: true, description: 'A disabled person cannot sign in; every session ends at once' })
  disabled?: boolean;
  @ListOf(() => GrantDto, 200, { optional: true, description: 'The whole list, in place of the one before' })
  grants?: GrantDto[];
}

export class PersonDto {
  @Uuid() id!: string;
  @Email() email!: string;
  @Text(120) displayName!: string;
  @Flag() disabled!: boolean;
  @ListOf(() => GrantDto, 200) grants!: GrantDto[];
  @Whole(1, 1e9) version!: number;
  @Instant() createdAt!: string;
}

export class PersonPageDto {
  @ListOf(() => PersonDto, 200) items!: PersonDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
