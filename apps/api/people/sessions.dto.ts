import { Email, Instant, ListOf, Nested, Text, Uuid } from '../http/dto/fields.js';
import { PersonDto } from './people.dto.js';

export class SignInDto {
  @Email() email!: string;
  @Text(200) password!: string;
}

export class SignedInDto {
  @Uuid() id!: string;
  @Text(200, { description: 'Shown once; send it as `Authorization: Bearer …`' }) token!: string;
  @Instant() expiresAt!: string;
  @Nested(() => PersonDto) person!: PersonDto;
}

export class SessionDto {
  @Uuid() id!: string;
  @Text(400, { nullable: true }) userAgent!: string | null;
  @Instant() createdAt!: string;
  @Instant() expiresAt!: string;
}

export class SessionListDto {
  @ListOf(() => SessionDto, 200) items!: SessionDto[];
}

export class OwnPasswordDto {
  @Text(200) currentPassword!: string;
  @Text(200, { min: 10 }) newPassword!: string;
}
