import { Injectable, Param, type PipeTransform } from '@nestjs/common';
import { isUUID } from 'class-validator';
import { v7 } from 'uuid';
import { notFound } from '../problems/catalogue.js';
import { MATERIAL_CODE, RULE_CODE } from './fields.js';

@Injectable()
class IdPipe implements PipeTransform<string, string> {
  transform(value: string): string {
    if (!isUUID(value)) throw notFound('thing');
    return value.toLowerCase();
  }
}

/** A UUID from the path; anything else names nothing. */
export const IdParam = (name = 'id'): ParameterDecorator => Param(name, IdPipe);

@Injectable()
class MaterialCodePipe implements PipeTransform<string, string> {
  transform(value: string): string {
    if (!MATERIAL_CODE.test(value)) throw notFound('material');
    return value;
  }
}

/** The code of a material from the path. */
export const MaterialCodeParam = (): ParameterDecorator => Param('code', MaterialCodePipe);

@Injectable()
class RuleCodePipe implements PipeTransform<string, string> {
  transform(value: string): string {
    if (!RULE_CODE.test(value)) throw notFound('process rule');
    return value;
  }
}

/** The code of a process rule from the path. */
export const RuleCodeParam = (): ParameterDecorator => Param('code', RuleCodePipe);

/** The client's own id, or a new UUIDv7. */
export const idOr = (given: string | undefined): string => given?.toLowerCase() ?? v7();
