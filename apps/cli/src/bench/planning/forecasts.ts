import { fastNow, forecastOf, nextCall, type ForecastCall } from '@blockbell/railway';
import type { Rehearsal } from '@blockbell/rehearsal';

/** How far ahead a forecast is judged, fast-clock ms. */
const AHEAD = 600_000;

/** By how much a forecast arrival was wrong, and what is booked plus the lateness of that moment; fast-clock ms. */
export interface ForecastErrors {
  readonly forecast: number[];
  readonly booked: number[];
}

interface Made {
  readonly fast: number;
  /** By train: what is shown of it at that moment. */
  readonly told: readonly (readonly ForecastCall[])[];
  /** By train, fast ms behind its booked time at that moment. */
  readonly late: readonly number[];
}

/** Keeps what was shown as expected each time that a plan came, to compare it with what happened. */
export class Forecasts {
  readonly #made: Made[] = [];

  constructor(private readonly rehearsal: Rehearsal) {
    rehearsal.observe(({ world, state, now }, input) => {
      if (input.kind !== 'plan') return;
      this.#made.push({
        fast: fastNow(state.session.clock, now),
        told: state.trains.map((_, train) => forecastOf(world, state, train)?.calls ?? []),
        late: state.trains.map((_, train) => (nextCall(world, state, train)?.lateness ?? 0) * 1000),
      });
    });
  }

  /** For every arrival at a call with a booked time: the last forecast made ten minutes before it, if that told of it. */
  errors(): ForecastErrors {
    const { world, state } = this.rehearsal;
    const errors: ForecastErrors = { forecast: [], booked: [] };
    state.trains.forEach(({ calls }, train) => {
      for (const { service, call, arrived } of calls) {
        const booked = world.timetable.services[service]!.calls[call]!.arrive;
        if (arrived === null || booked === null) continue;
        const made = this.#made.findLast(({ fast }) => fast <= arrived - AHEAD);
        const told = made?.told[train]!.find((it) => it.service === service && it.call === call);
        if (made === undefined || told?.arrive == null) continue;
        errors.forecast.push(Math.abs(told.arrive - arrived));
        errors.booked.push(Math.abs(booked + made.late[train]! - arrived));
      }
    });
    return errors;
  }
}
