import { Flag, Instant, OneOf, Pattern, Whole } from '../http/dto/fields.js';
import { type SealedKind, sealedKinds } from './seals.records.js';

export class SealDto {
  @Pattern(/^[0-9a-f]{64}$/, '64 lower-case hexadecimal digits', {
    description: 'SHA-256 over the RFC 8785 canonical JSON of the document',
  })
  seal!: string;
  @OneOf(sealedKinds) kind!: SealedKind;
  @Whole(1, 1e6) version!: number;
  @Instant() sealedAt!: string;
  @Flag({ description: 'The digest of what is stored, computed now, is the seal' }) intact!: boolean;
}
