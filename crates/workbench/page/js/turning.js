/** @typedef {import("./types.js").State} State */
/** @typedef {"rete" | "rule" | "alidade"} Hand */

const TURN = 360;

/** @param {number} deg */
export const inTurn = (deg) => ((deg % TURN) + TURN) % TURN;

/**
 * The short way from one position to another, in degrees.
 * @param {number} from
 * @param {number} to
 */
export const shortWay = (from, to) => {
  const onward = inTurn(to - from);
  return onward > TURN / 2 ? onward - TURN : onward;
};

/** Degrees in a second that a hand turns at walking pace. */
const PACE = 70;
/** No movement takes longer or shorter than this, in milliseconds, at walking pace. */
const LONGEST = 3200;
const SHORTEST = 350;

/**
 * How parts go from one position to another: how long at walking pace, and where they
 * stand at any part of it.
 * @param {State} begin
 * @param {State} end
 * @param {{rete: number, rule: number, alidade: number}} by signed turns
 */
function wayOf(begin, end, { rete, rule, alidade }) {
  const way = Math.max(Math.abs(rete), Math.abs(rule), Math.abs(alidade));
  return {
    time_ms: way < 1e-6 ? 0 : Math.min(LONGEST, Math.max(SHORTEST, (way / PACE) * 1000)),
    /** @param {number} part @returns {State} */
    move(part) {
      // Begins and ends gently, as a hand does.
      const eased = part * part * (3 - 2 * part);
      return {
        plate_latitude_deg: end.plate_latitude_deg,
        rete_deg: inTurn(begin.rete_deg + rete * eased),
        rule_deg: inTurn(begin.rule_deg + rule * eased),
        alidade_deg: inTurn(begin.alidade_deg + alidade * eased),
      };
    },
  };
}

/**
 * The same the short way, or the rete by a signed turn.
 * @param {State} begin
 * @param {State} end
 * @param {number} [rete]
 */
export const moveOf = (begin, end, rete) => wayOf(begin, end, {
  rete: rete ?? shortWay(begin.rete_deg, end.rete_deg),
  rule: shortWay(begin.rule_deg, end.rule_deg),
  alidade: shortWay(begin.alidade_deg, end.alidade_deg),
});

const reduced = matchMedia("(prefers-reduced-motion: reduce)");

/**
 * Where the parts stand. They are turned by hand, or moved to a state for the eye
 * to follow; whoever shows them listens.
 */
export function createTurning() {
  /** @type {State} */
  let state = { plate_latitude_deg: 0, rete_deg: 0, rule_deg: 0, alidade_deg: 0 };
  /** Whether it was a hand that turned last, and not the working. */
  let byHand = false;
  /** Where the working put the parts last. @type {State | null} */
  let worked = null;
  /** How many times as fast as walking pace. */
  let speed = 1;
  let moving = 0;
  /** @type {(() => void) | null} */
  let arrived = null;
  const events = new EventTarget();

  /** @param {Partial<State>} change */
  function set(change) {
    state = { ...state, ...change };
    events.dispatchEvent(new Event("turned"));
  }

  /** Ends a movement where it is; who waits for it goes on. */
  function halt() {
    cancelAnimationFrame(moving);
    moving = 0;
    arrived?.();
    arrived = null;
  }

  /**
   * Moves the parts by signed turns, then stands exactly at the end.
   * @param {State} end
   * @param {number} rete
   * @param {number} rule
   * @param {number} alidade
   * @param {number} pace
   * @returns {Promise<void>}
   */
  function move(end, rete, rule, alidade, pace) {
    const way = wayOf(state, end, { rete, rule, alidade });
    if (reduced.matches || way.time_ms === 0) {
      set(end);
      return Promise.resolve();
    }
    const time = way.time_ms / (speed * pace);
    const started = performance.now();
    return new Promise((resolve) => {
      arrived = resolve;
      /** @param {number} now */
      const step = (now) => {
        const part = Math.min(1, Math.max(0, (now - started) / time));
        if (part === 1) {
          set(end);
          moving = 0;
          arrived = null;
          resolve();
          return;
        }
        set(way.move(part));
        moving = requestAnimationFrame(step);
      };
      moving = requestAnimationFrame(step);
    });
  }

  return {
    get state() { return state; },
    get moving() { return moving !== 0; },
    get byHand() { return byHand; },
    /** How the working left the parts, or is about to. */
    get worked() { return worked; },
    /** @param {number} times */
    set speed(times) { speed = times; },
    set,
    halt,
    /**
     * Turns a part by hand.
     * @param {Hand} hand
     * @param {number} deg
     */
    turn(hand, deg) {
      halt();
      byHand = true;
      const key = /** @type {const} */ (`${hand}_deg`);
      set({ [key]: inTurn(state[key] + deg) });
    },
    /**
     * Moves to a state the short way, or the rete by a signed turn.
     * @param {State} end
     * @param {{rete?: number, pace?: number}} [how]
     */
    async moveTo(end, { rete, pace = 1 } = {}) {
      halt();
      byHand = false;
      worked = end;
      if (end.plate_latitude_deg !== state.plate_latitude_deg) {
        set({ plate_latitude_deg: end.plate_latitude_deg });
      }
      await move(
        end,
        rete ?? shortWay(state.rete_deg, end.rete_deg),
        shortWay(state.rule_deg, end.rule_deg),
        shortWay(state.alidade_deg, end.alidade_deg),
        pace,
      );
    },
    /** @param {() => void} listener */
    onTurned(listener) { events.addEventListener("turned", listener); },
  };
}

/** @typedef {ReturnType<typeof createTurning>} Turning */

/**
 * @param {State} one
 * @param {State} other
 */
export const sameState = (one, other) =>
  Math.abs(shortWay(one.rete_deg, other.rete_deg)) < 1e-6 &&
  Math.abs(shortWay(one.rule_deg, other.rule_deg)) < 1e-6 &&
  Math.abs(shortWay(one.alidade_deg, other.alidade_deg)) < 1e-6;
