import { applyDecorators } from '@nestjs/common';
import { registerDecorator } from 'class-validator';
import { lengthUnits, massToG, massUnits, temperatureUnits, volumeToMl, volumeUnits } from '#libs/quantities';
import type { LengthUnit, MassUnit, TemperatureUnit, VolumeUnit } from '#libs/quantities';
import { type FieldOptions, Nested, Num, OneOf } from './fields.js';

const LARGEST = 1e9;

export class MassDto {
  @Num(0, LARGEST, { example: 27.4 }) value!: number;
  @OneOf(massUnits, { example: 'lb' }) unit!: MassUnit;
}

export class VolumeDto {
  @Num(0, LARGEST, { example: 5 }) value!: number;
  @OneOf(volumeUnits, { example: 'gal' }) unit!: VolumeUnit;
}

export class TemperatureDto {
  @Num(-100, 400, { example: 140 }) value!: number;
  @OneOf(temperatureUnits, { example: 'F' }) unit!: TemperatureUnit;
}

export class LengthDto {
  @Num(0, 100_000, { example: 18 }) value!: number;
  @OneOf(lengthUnits, { example: 'in' }) unit!: LengthUnit;
}

/** Above this a single entry is a slip of the keys, not a load: 50 t and 200 m³ are more than a truck takes. */
const MOST_G = 50_000_000;
const MOST_ML = 200_000_000;

function atMost(
  name: string,
  most: number,
  told: string,
  measure: (value: never) => number,
): PropertyDecorator {
  return (target, propertyName) => {
    registerDecorator({
      name,
      target: target.constructor,
      propertyName: propertyName as string,
      options: { message: `must be ${told}` },
      validator: {
        validate(value: unknown) {
          try {
            return measure(value as never) <= most;
          } catch {
            return true; // its parts are told of on their own
          }
        },
      },
    });
  };
}

export const Mass = (options: FieldOptions = {}) =>
  applyDecorators(
    Nested(() => MassDto, options),
    atMost('mass', MOST_G, 'a mass of at most 50 t', (mass: MassDto) => massToG(mass)),
  );

export const Volume = (options: FieldOptions = {}) =>
  applyDecorators(
    Nested(() => VolumeDto, options),
    atMost('volume', MOST_ML, 'a volume of at most 200 m3', (volume: VolumeDto) => volumeToMl(volume)),
  );

export const Temperature = (options: FieldOptions = {}) => Nested(() => TemperatureDto, options);

export const Depth = (options: FieldOptions = {}) => Nested(() => LengthDto, options);
