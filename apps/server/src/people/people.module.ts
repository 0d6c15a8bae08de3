import { Module } from '@nestjs/common';
import { CrewRoster } from '../session/crew-roster.js';
import { Entrance } from './entrance.js';
import { People } from './people.js';
import { SignIns } from './sign-ins.js';

const PROVIDERS = [People, SignIns, Entrance, CrewRoster];

/** Who may come in. What they may then do is asked where it is done. */
@Module({ providers: PROVIDERS, exports: PROVIDERS })
export class PeopleModule {}
