import { Body, Controller, Delete, Get, HttpCode, Post, Req, Res, UseGuards } from '@nestjs/common';
import {
  ApiBearerAuth,
  ApiCreatedResponse,
  ApiNoContentResponse,
  ApiOkResponse,
  ApiOperation,
  ApiTags,
} from '@nestjs/swagger';
import { Throttle, ThrottlerGuard } from '@nestjs/throttler';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { Asker, Public, SignedIn } from '../http/access/access.js';
import { Actor } from '../http/access/actor.js';
import { SESSION_COOKIE } from '../http/access/authenticator.js';
import { IdParam } from '../http/dto/id.js';
import { OwnPasswordDto, SessionListDto, SignedInDto, SignInDto } from './sessions.dto.js';
import { SessionsService } from './sessions.service.js';

/** Tries a minute from one address: a person mistypes a few times, a guesser thousands. */
const TRIES = 30;
const limited = { default: { limit: TRIES, ttl: 60_000 } };

const cookieOf = (request: FastifyRequest) => ({
  httpOnly: true,
  sameSite: 'strict' as const,
  path: '/api',
  secure: request.protocol === 'https',
});

@ApiTags('people')
@Controller('sessions')
export class SessionsController {
  constructor(private readonly sessions: SessionsService) {}

  @Post()
  @Public()
  @UseGuards(ThrottlerGuard)
  @Throttle(limited)
  @ApiOperation({ summary: 'Sign in: a token for programs, an HttpOnly cookie for pages' })
  @ApiCreatedResponse({ type: SignedInDto })
  async signIn(
    @Body() dto: SignInDto,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SignedInDto> {
    const session = await this.sessions.signIn(dto, request.headers['user-agent'] ?? null);
    void reply.setCookie(SESSION_COOKIE, session.token, {
      ...cookieOf(request),
      expires: new Date(session.expiresAt),
    });
    return session;
  }

  @Get()
  @SignedIn()
  @ApiBearerAuth()
  @ApiOperation({ summary: 'Where one is signed in' })
  @ApiOkResponse({ type: SessionListDto })
  async list(@Asker() actor: Actor): Promise<SessionListDto> {
    return { items: await this.sessions.list(actor) };
  }

  @Delete('current')
  @SignedIn()
  @HttpCode(204)
  @ApiBearerAuth()
  @ApiOperation({ summary: 'Sign out' })
  @ApiNoContentResponse()
  async signOut(
    @Asker() actor: Actor,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<void> {
    await this.sessions.signOut(actor, actor.sessionId);
    void reply.clearCookie(SESSION_COOKIE, cookieOf(request));
  }

  @Delete(':id')
  @SignedIn()
  @HttpCode(204)
  @ApiBearerAuth()
  @ApiOperation({ summary: 'End another session of one’s own' })
  @ApiNoContentResponse()
  async revoke(@Asker() actor: Actor, @IdParam() id: string): Promise<void> {
    await this.sessions.signOut(actor, id);
  }

  // Whoever holds a stolen session must not guess the password.
  @Post('password')
  @SignedIn()
  @UseGuards(ThrottlerGuard)
  @Throttle(limited)
  @HttpCode(204)
  @ApiBearerAuth()
  @ApiOperation({ summary: 'Change one’s own password; every session ends' })
  @ApiNoContentResponse()
  async changePassword(@Asker() actor: Actor, @Body() dto: OwnPasswordDto): Promise<void> {
    await this.sessions.changeOwnPassword(actor, dto);
  }
}
