import { Instant, ListOf, Pattern, Text } from '../http/dto/fields.js';

export class OverrideDto {
  @Text(60, { example: 'cure', description: 'Key of a gate that is unmet or unknown' }) gate!: string;
  @Text(1000, { min: 10, description: 'Why the batch is released in spite of it; it stands in the record' })
  reason!: string;
}

export class NewReleaseDto {
  @Text(200, { description: 'Of whoever signs, once more: it is the signature' }) password!: string;
  @ListOf(() => OverrideDto, 100, { optional: true }) overrides?: OverrideDto[];
  @Text(2000, { optional: true, description: 'In place of the usual words' }) statement?: string;
  @Instant({ optional: true, description: 'When it was signed on paper; the gates are judged as of then' })
  occurredAt?: string;
}

export class ReleasedDto {
  @Pattern(/^[0-9a-f]{64}$/, '64 lower-case hexadecimal digits', {
    description: 'SHA-256 over the RFC 8785 canonical JSON of the batch record',
  })
  seal!: string;
}
