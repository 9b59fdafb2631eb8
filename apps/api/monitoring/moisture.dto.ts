import { applyDecorators } from '@nestjs/common';
import { ApiProperty } from '@nestjs/swagger';
import { ValidateBy, ValidateIf } from 'class-validator';
import { type MoistureWord, moistureWords } from '#libs/process';

/** Felt in the hand, or measured. */
export type Moisture = MoistureWord | { percent: number };

const MESSAGE = `must be ${moistureWords.map((word) => `"${word}"`).join(', ')} or {"percent": 0 to 100}`;

function isMoisture(value: unknown): value is Moisture {
  if (typeof value === 'string') return moistureWords.some((word) => word === value);
  if (typeof value !== 'object' || value === null) return false;
  const { percent, ...others } = value as Record<string, unknown>;
  return typeof percent === 'number' && percent >= 0 && percent <= 100 && Object.keys(others).length === 0;
}

/** Optional; a word or `{percent}`. */
export function MoistureField(): PropertyDecorator {
  return applyDecorators(
    ApiProperty({
      required: false,
      oneOf: [
        { type: 'string', enum: [...moistureWords] },
        {
          type: 'object',
          properties: { percent: { type: 'number', minimum: 0, maximum: 100 } },
          required: ['percent'],
          additionalProperties: false,
        },
      ],
      example: 'moist',
    }),
    ValidateIf((_, value) => value !== undefined),
    ValidateBy({ name: 'moisture', validator: { validate: isMoisture } }, { message: MESSAGE }),
  );
}
