import { Injectable, Param, type PipeTransform } from '@nestjs/common';
import { isUUID } from 'class-validator';
import { v7 } from 'uuid';
import { notFound } from '../problems/catalogue.js';

@Injectable()
class IdPipe implements PipeTransform<string, string> {
  transform(value: string): string {
    if (!isUUID(value)) throw notFound('thing');
    return value.toLowerCase();
  }
}

/** A UUID from the path; anything else names nothing. */
export const IdParam = (name = 'id'): ParameterDecorator => Param(name, IdPipe);

/** The client's own id, or a new UUIDv7. */
export const idOr = (given: string | undefined): string => given?.toLowerCase() ?? v7();
