import {
  Body,
  Controller,
  Delete,
  Get,
  Inject,
  Param,
  ParseIntPipe,
  Patch,
  Post,
} from '@nestjs/common';
import { ApiBody, ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import {
  answerMessage,
  changedPersonMessage,
  newPersonMessage,
  peopleView,
  personAnswer,
  type AnswerMessage,
  type ChangedPersonMessage,
  type NewPersonMessage,
  type PersonAnswer,
  type PersonView,
} from '@blockbell/contract';
import { CommandDesk } from '../people/command-desk.js';
import type { Asker } from '../people/leave.js';
import { People } from '../people/people.js';
import { SignIns } from '../people/sign-ins.js';
import { Asking, For } from './sign-in.guard.js';
import { apiSchema, ZodBody } from './zod-body.js';

/** The people who may sign in. */
@ApiTags('people')
@Controller('api/people')
export class PeopleController {
  constructor(
    @Inject(People) private readonly people: People,
    @Inject(SignIns) private readonly signIns: SignIns,
    @Inject(CommandDesk) private readonly desk: CommandDesk,
  ) {}

  @Get()
  @For('see-people')
  @ApiOperation({ summary: 'Everybody who may sign in' })
  @ApiResponse({ status: 200, schema: apiSchema(peopleView) })
  list(): { ok: true; people: PersonView[] } {
    return { ok: true, people: this.people.list() };
  }

  @Post()
  @For('manage-people')
  @ApiOperation({ summary: 'Add somebody' })
  @ApiBody({ schema: apiSchema(newPersonMessage) })
  @ApiResponse({ status: 201, schema: apiSchema(personAnswer) })
  @ApiResponse({ status: 409, description: 'There is somebody of that name' })
  async add(
    @Body(new ZodBody(newPersonMessage)) { name, role, passphrase }: NewPersonMessage,
  ): Promise<PersonAnswer> {
    return { ok: true, person: await this.people.add(name, role, passphrase) };
  }

  @Patch(':id')
  @For('manage-people')
  @ApiOperation({ summary: 'Give somebody another role or a new passphrase' })
  @ApiParam({ name: 'id', type: 'integer' })
  @ApiBody({ schema: apiSchema(changedPersonMessage) })
  @ApiResponse({ status: 200, schema: apiSchema(personAnswer) })
  @ApiResponse({ status: 404, description: 'There is no such person' })
  @ApiResponse({ status: 409, description: 'The only builder stays one' })
  async change(
    @Param('id', ParseIntPipe) id: number,
    @Body(new ZodBody(changedPersonMessage)) { role, passphrase }: ChangedPersonMessage,
    @Asking() asker: Asker,
  ): Promise<PersonAnswer> {
    const person = await this.people.change(id, {
      ...(role === undefined ? {} : { role }),
      ...(passphrase === undefined ? {} : { passphrase }),
    });
    if (person.role === 'visitor') await this.desk.dismiss(asker, person);
    // Whoever gives themself a new passphrase stays where they are.
    if (passphrase !== undefined && asker?.id !== id) await this.signIns.endAllOf(id);
    return { ok: true, person };
  }

  @Delete(':id')
  @For('manage-people')
  @ApiOperation({ summary: 'Remove somebody; wherever they are signed in, that ends' })
  @ApiParam({ name: 'id', type: 'integer' })
  @ApiResponse({ status: 200, schema: apiSchema(answerMessage) })
  @ApiResponse({ status: 404, description: 'There is no such person' })
  @ApiResponse({ status: 409, description: 'The only builder stays' })
  async remove(
    @Param('id', ParseIntPipe) id: number,
    @Asking() asker: Asker,
  ): Promise<AnswerMessage> {
    const person = this.people.removable(id);
    await this.desk.dismiss(asker, person);
    await this.signIns.endAllOf(id);
    await this.people.remove(id);
    return { ok: true };
  }
}
