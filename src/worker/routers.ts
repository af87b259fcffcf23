import type { WantedRoute } from '../core/design';
import type { BedLayout } from '../core/layout';
import type { RouteAnswer, RouteJob } from './router';

/** One router at work somewhere else, that can be stopped in the middle of a bed. */
export interface Router {
  ask(job: RouteJob): void;
  stop(): void;
}

/** Starts a router that tells its answers to `answer`. */
export type StartRouter = (answer: (answer: RouteAnswer) => void) => Router;

/** Several routers side by side, each on one bed. */
export interface Routers {
  /**
   * Asks for these routes, in this order. What is under way for another plan of the same beds is stopped; what is under way
   * for other beds goes on unless its router is needed.
   */
  want(routes: readonly WantedRoute[]): void;
  /** Stops everything under way. */
  rest(): void;
}

interface Place {
  router: Router | null;
  job: { readonly number: number; readonly route: WantedRoute } | null;
}

/**
 * @param count  how many beds are routed at a time
 * @param start  starts one router
 * @param found  told each route
 * @param failed told the broken claim where the router had a bug
 */
export function createRouters(
  count: number,
  start: StartRouter,
  found: (route: WantedRoute, parts: readonly BedLayout[]) => void,
  failed: (claim: string) => void,
): Routers {
  const places: Place[] = Array.from({ length: count }, () => ({ router: null, job: null }));
  let lastNumber = 0;

  const take = (place: Place, answer: RouteAnswer): void => {
    const job = place.job;
    // A stopped router's last word may still be on its way.
    if (job === null || job.number !== answer.number) return;
    place.job = null;
    if (answer.kind === 'routed') found(job.route, answer.parts);
    else failed(answer.claim);
  };
  const stop = (place: Place): void => {
    if (place.job === null) return;
    place.router?.stop();
    place.router = null;
    place.job = null;
  };
  const send = (place: Place, route: WantedRoute): void => {
    place.router ??= start((answer) => take(place, answer));
    lastNumber += 1;
    place.job = { number: lastNumber, route };
    place.router.ask({ number: lastNumber, input: route.input });
  };
  const isUnderWay = (route: WantedRoute): boolean =>
    places.some((place) => place.job?.route.key === route.key);

  return {
    want(routes) {
      const wantedKeys = new Set(routes.map((route) => route.key));
      const wantedBeds = new Set(routes.map((route) => route.bedId));
      const isUseful = (place: Place): boolean => place.job !== null && wantedKeys.has(place.job.route.key);
      for (const place of places)
        if (place.job !== null && !isUseful(place) && wantedBeds.has(place.job.route.bedId)) stop(place);
      for (const route of routes) {
        if (isUnderWay(route)) continue;
        const place = places.find((one) => one.job === null) ?? places.find((one) => !isUseful(one));
        if (place === undefined) return;
        stop(place);
        send(place, route);
      }
    },
    rest() {
      for (const place of places) stop(place);
    },
  };
}
