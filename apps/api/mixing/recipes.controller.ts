import { Body, Controller, Get, Patch, Post, Query, Res } from '@nestjs/common';
import { ApiBearerAuth, ApiCreatedResponse, ApiOkResponse, ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow, Asker, at } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { IfMatch, withEtag } from '../http/dto/etag.js';
import { IdParam } from '../http/dto/id.js';
import { BatchRecipeQuery, ComparedRecipeDto, ScaledRecipeDto, ScaledRecipeQuery } from './recipe-use.dto.js';
import { RecipeUseService } from './recipe-use.service.js';
import { NewRecipeDto, RecipeChangeDto, RecipeDto, RecipePageDto, RecipesQuery } from './recipes.dto.js';
import { RecipesService } from './recipes.service.js';

@ApiTags('mixing')
@ApiBearerAuth()
@Controller('recipes')
export class RecipesController {
  constructor(
    private readonly recipes: RecipesService,
    private readonly use: RecipeUseService,
  ) {}

  @Get()
  @Allow('operator', at.ownSites())
  @ApiOperation({ summary: 'Recipes of one’s own yards' })
  @ApiOkResponse({ type: RecipePageDto })
  list(@Asker() actor: Actor, @Query() query: RecipesQuery): Promise<RecipePageDto> {
    return this.recipes.list(actor, query);
  }

  @Get(':id')
  @Allow('operator', at.thing('recipe'))
  @ApiOperation({ summary: 'One recipe' })
  @ApiOkResponse({ type: RecipeDto })
  async get(@IdParam() id: string, @Res({ passthrough: true }) reply: FastifyReply): Promise<RecipeDto> {
    return withEtag(reply, await this.recipes.get(id));
  }

  @Post()
  @Allow('manager', at.site())
  @ApiOperation({ summary: 'Add what a yard usually mixes, by mass or by volume' })
  @ApiCreatedResponse({ type: RecipeDto })
  async create(
    @Asker() actor: Actor,
    @Body() dto: NewRecipeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<RecipeDto> {
    return withEtag(reply, await this.recipes.create(actor, dto));
  }

  @Patch(':id')
  @Allow('manager', at.thing('recipe'))
  @ApiOperation({ summary: 'Change or retire a recipe' })
  @ApiOkResponse({ type: RecipeDto })
  async change(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @IfMatch() version: number,
    @Body() dto: RecipeChangeDto,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<RecipeDto> {
    return withEtag(reply, await this.recipes.change(actor, id, version, dto));
  }

  @Get(':id/scaled')
  @Allow('operator', at.thing('recipe'))
  @ApiOperation({ summary: 'How much of the rest goes with the drop-offs that wait at the hubs' })
  @ApiOkResponse({ type: ScaledRecipeDto })
  scaled(
    @Asker() actor: Actor,
    @IdParam() id: string,
    @Query() query: ScaledRecipeQuery,
  ): Promise<ScaledRecipeDto> {
    return this.use.scaled(actor, id, query);
  }
}

@ApiTags('mixing')
@ApiBearerAuth()
@Controller('batches/:id/recipe')
export class BatchRecipeController {
  constructor(private readonly use: RecipeUseService) {}

  @Get()
  @Allow('operator', at.thing('batch'))
  @ApiOperation({
    summary: 'What a recipe would have had for the drop-offs of the batch, beside what went in',
  })
  @ApiOkResponse({ type: ComparedRecipeDto })
  ofBatch(@IdParam() id: string, @Query() { recipe }: BatchRecipeQuery): Promise<ComparedRecipeDto> {
    return this.use.ofBatch(id, recipe);
  }
}
