import type { Command, World } from '@blockbell/railway';

/** What a command did, to go after the name of who gave it: "set a route for 101 to M2". */
export function deedWords(world: World, command: Command): string {
  const train = 'train' in command ? (world.stock.trains[command.train]?.file.label ?? '') : '';
  const block = 'block' in command ? blockName(world, command.block) : '';
  switch (command.kind) {
    case 'set-route':
      return `set a route for ${train} to ${block}`;
    case 'give-back-route':
      return `gave the way of ${train} back`;
    case 'turn-round':
      return `turned ${train} round`;
    case 'take-in-hand':
      return command.take ? `took ${train} in hand` : `gave ${train} back to the timetable`;
    case 'hold-train':
      return command.hold ? `held ${train}` : `let ${train} go`;
    case 'release-train':
      return `released ${train}`;
    case 'declare-identity':
      return `said that ${train} stands in ${block}`;
    case 'confirm-place':
      return `said where ${train} stands`;
    case 'confirm-absent':
      return `said that ${train} is not on the layout`;
    case 'confirm-clear':
      return `said that ${block} is clear`;
    case 'close-track':
      return `closed ${blockName(world, command.element)} (${command.reason})`;
    case 'reopen-track':
      return `reopened ${blockName(world, command.element)}`;
    case 'choose-track':
      return `chose a track for ${train}`;
    case 'go-first':
      return `said who goes first, ${train} or ${labelOf(world, command.before)}`;
    case 'cancel-services':
      return `cancelled services of ${train}`;
    case 'restore-services':
      return `had services of ${train} run after all`;
    case 'add-service':
      return `added the service ${command.service.name} to the work of ${train}`;
    case 'follow-staging-rules':
      return command.rules === null
        ? 'had the staging yards worked by no rules'
        : `had the staging yards worked by the rules “${command.rules.name}”`;
    case 'hold-departures':
      return command.hold ? 'held all departures' : 'let departures go';
    case 'set-clock-ratio':
      return `set the fast clock to ${command.ratio}:1`;
    case 'power-up':
      return 'switched the power on';
    case 'start':
      return 'started the session';
    case 'pause':
      return 'paused the session';
    case 'resume':
      return 'resumed the session';
    case 'end-session':
      return 'ended the session';
    case 'stop-all':
      return 'stopped all trains';
    case 'cut-power':
      return 'cut the power';
    default:
      return command.kind.replaceAll('-', ' ');
  }
}

const labelOf = (world: World, train: number): string =>
  world.stock.trains[train]?.file.label ?? `train ${train}`;

function blockName(world: World, block: number): string {
  const element = world.layout.elements[block];
  if (element === undefined) return '';
  return element.file?.kind === 'block' ? (element.file.name ?? element.id) : element.id;
}
