import type { Command } from '../../session/input.js';
import type { Seen } from '../../session/writer.js';

/** What a dispatcher wished, as a phrase for the log; null where the command is no wish. */
export function wishPhrase({ world }: Seen, command: Command): string | null {
  const labelOf = (train: number): string => world.stock.trains[train]!.file.label;
  const nameOf = (service: number): string =>
    world.timetable.services[service]?.file.name ?? `service ${service}`;
  switch (command.kind) {
    case 'choose-track': {
      const { train, service, call, track } = command;
      const station = world.timetable.services[service]?.calls[call]?.station ?? -1;
      const place = world.layout.stations[station]?.file.name ?? 'its call';
      return track === null
        ? `leaves the track of ${labelOf(train)} at ${place} open`
        : `wants ${labelOf(train)} in ${track} at ${place}`;
    }
    case 'go-first': {
      const both = `${labelOf(command.train)} goes before ${labelOf(command.before)}`;
      return command.first ? `wants that ${both}` : `takes back that ${both}`;
    }
    case 'cancel-services': {
      const { train, service, through } = command;
      const until = service === through ? '' : ` to ${nameOf(through)}`;
      return `cancels ${nameOf(service)}${until} of ${labelOf(train)}`;
    }
    case 'add-service':
      return `adds the service ${command.service.name} to the work of ${labelOf(command.train)}`;
    case 'restore-services':
      return `has ${nameOf(command.service)} of ${labelOf(command.train)} run after all`;
    default:
      return null;
  }
}
