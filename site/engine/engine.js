// The page's side of the engine: starts the worker, watches over its start, and keeps the latest request of each lane.
import {ANSWER, ASK, FAILED, READY, STAGE, STAGES, START} from './messages.js'

/** @import {Answer, Answers, Question} from '../base/types.js' */
/** @import {FailureKind, FromWorker, Progress, Stage, StartWay, ToWorker} from './messages.js' */
/** @typedef {'loading' | 'ready' | 'failed'} EngineState */
/** @typedef {{way?: StartWay, ms?: number, reason?: string, cure?: string}} StateDetail */
/** What is told of a stage. @typedef {Required<Progress> & {text: string, slow?: string}} StageTold */
/**
 * @typedef {(answer: string | null) => void} Resolve
 * @typedef {{id: number, lane: string, text: string, again?: boolean, since?: number, resolve: Resolve}} Waiting
 */
/**
 * `onState(state, detail)` hears 'loading', 'ready' and 'failed' ({reason, cure}); `onStage(told)` how the start goes;
 * `onSlow(lane)` of an answer that takes long, and of its end with null. None is called before the caller is done.
 * @typedef {object} Handlers
 * @property {(name: EngineState, detail: StateDetail) => void} onState
 * @property {(told: StageTold) => void} onStage
 * @property {(lane: string | null) => void} onSlow
 */

/** How the frozen heap starts, on whichever runtime. @type {Record<Stage, [number, number]>} */
const FROZEN_PATIENCE = {fetch: [8e3, 45e3], python: [8e3, 40e3], core: [5e3, 20e3]}
/**
 * How long a stage may stay silent: after the first number [ms] the page says what helps, after the second it is given
 * up.
 * @type {Record<StartWay, Record<Stage, [number, number]>>}
 */
const PATIENCE = {
  frozen: FROZEN_PATIENCE,
  whole: FROZEN_PATIENCE,
  plain: {fetch: [8e3, 45e3], python: [20e3, 120e3], core: [20e3, 120e3]},
}
const SLOW = 1e3 // an answer that takes longer [ms] is told, and can be stopped; a newer one takes its place
const STOPPED = JSON.stringify({
  ok: false,
  problems: [
    {at: 'request', text: 'Stopped before it was done. What you entered is kept; the next change is planned.'},
  ],
})
const ANSWER_WITHIN = 180e3 // a cutting plan of a hundred boards on a slow phone takes less than a minute [ms]
const TEXT = {
  frozen: {fetch: 'Fetching the planner', python: 'Starting the planner', core: 'Starting the planner'},
  whole: {fetch: 'Fetching the rest of the planner', python: 'Starting the planner', core: 'Starting the planner'},
  plain: {
    fetch: 'Fetching the planner the long way',
    python: 'Starting the planner the long way; this takes some ten seconds',
    core: 'Starting the planner the long way; this takes some ten seconds',
  },
}
const HELP = {
  fetch: 'The line is slow or gone. What was fetched is kept: wait, or load the page again where the signal is better.',
  python: 'This device is busy. Closing other tabs and apps helps.',
  core: 'This device is busy. Closing other tabs and apps helps.',
}
const CURE = {
  network: 'Check the connection, then try again. What you entered is kept.',
  start:
    'Load the page again. If that does not help, try another browser or update this one. What you entered is kept.',
  broke: 'Change what you entered last, then try again. What you entered is kept.',
  rest: 'What you asked last needs a part of the planner that is not kept on this device yet. Connect, then try again. What you entered is kept.',
  lacking:
    'This browser lacks what the planner runs on (WebAssembly and module workers). Use a current browser. What you entered is kept.',
}

/** Starts the engine. @param {Partial<Handlers>} [handlers] */
export function createEngine(handlers) {
  const engine = new Engine({onState() {}, onStage() {}, onSlow() {}, ...handlers})
  // A worker that begins before the first frame takes the processor from it, and is ready no sooner. A hidden page
  // makes no frame.
  if (document.hidden) engine.restart()
  else requestAnimationFrame(() => engine.restart())
  return engine
}

class Engine {
  /** The request that waits in each lane. @type {Map<string, Waiting>} */
  #lanes = new Map()
  /** The request that the worker is at. @type {Waiting | undefined} */
  #busy
  /** @type {Worker | undefined} */
  #worker
  #tries = 0
  /** @type {StartWay} */
  #way = 'frozen'
  #watch = 0
  #slow = 0
  /** The lane whose answer was told to take long. @type {string | null} */
  #told = null
  #ids = 0
  #ready = false
  /** The lean runtime broke down over an answer, and the whole one has not started since. */
  #lacks = false
  /** What a start took here [ms]: to interrupt an answer costs as much. */
  #took = 0
  #handlers

  /** @param {Handlers} handlers */
  constructor(handlers) {
    this.#handlers = handlers
  }

  way() {
    return this.#way
  }

  /**
   * Asks with the words of the request; resolves to the words of the answer, or null when a later request took its
   * place.
   * @param {string} text
   * @returns {Promise<string | null>}
   */
  askText(text, lane = 'plan') {
    return new Promise((resolve) => {
      this.#lanes.get(lane)?.resolve(null)
      this.#ids += 1
      this.#lanes.set(lane, {id: this.#ids, lane, text, resolve})
      this.#next()
      this.#watchSlow()
    })
  }

  /** Gives the answer up that is being worked on: it ends in words that say so. */
  stopAnswer() {
    const busy = this.#busy
    if (!busy) return
    this.#busy = undefined
    this.#startAnew()
    busy.resolve(STOPPED)
  }

  /**
   * Asks; resolves to the answer, or null when a later request of the same lane took its place.
   * @template {keyof Answers} K
   * @param {Question<K>} request
   * @param {string} [lane]
   * @returns {Promise<Answer<K> | null>}
   */
  async ask(request, lane) {
    const answer = await this.askText(JSON.stringify(request), lane)
    return answer === null ? null : JSON.parse(answer)
  }

  // ------------------------------------------------------------ starting

  restart() {
    this.#tries = 0
    this.#lacks = false
    if (typeof WebAssembly !== 'object') {
      this.#give('lacking', 'WebAssembly is missing')
      return
    }
    this.#begin('frozen')
  }

  /** @param {StartWay} way */
  #begin(way) {
    this.#stop()
    this.#way = way
    this.#tries += 1
    this.#state('loading', {way})
    const mine = new Worker(new URL('./worker.js', import.meta.url), {type: 'module'})
    this.#worker = mine
    mine.onmessage = ({data}) => mine === this.#worker && this.#hear(data)
    mine.onerror = (event) => {
      event.preventDefault?.()
      // A script that did not come has no message; one that this browser cannot run has.
      if (mine === this.#worker)
        this.#failed(event.message ? 'start' : 'network', event.message || 'The worker could not be loaded')
    }
    this.#send({type: START, way, counted: !navigator.serviceWorker?.controller})
    this.#stage({stage: STAGES.fetch})
  }

  #stop() {
    clearTimeout(this.#watch)
    this.#tellSlow(null)
    this.#worker?.terminate()
    this.#worker = undefined
    const busy = this.#busy
    if (busy) {
      if (!this.#lanes.has(busy.lane)) this.#lanes.set(busy.lane, busy)
      else busy.resolve(null)
    }
    this.#busy = undefined
  }

  /** @param {Progress} told */
  #stage(told) {
    this.#ready = false
    const {stage} = told
    const [slowAfter, endAfter] = PATIENCE[this.#way][stage]
    const shown = {total: 0, loaded: 0, ...told, text: TEXT[this.#way][stage]}
    queueMicrotask(() => this.#handlers.onStage(shown))
    clearTimeout(this.#watch)
    this.#watch = setTimeout(() => {
      this.#handlers.onStage({...shown, slow: HELP[stage]})
      this.#watch = setTimeout(
        () => this.#failed(stage === STAGES.fetch ? 'network' : 'start', `"${shown.text}" took too long`),
        endAfter - slowAfter,
      )
    }, slowAfter)
  }

  // ------------------------------------------------------------ what the worker says

  /** @param {FromWorker} data */
  #hear(data) {
    if (data.type === STAGE) this.#stage(data)
    else if (data.type === FAILED) this.#failed(data.kind, data.text)
    else if (data.type === READY) {
      clearTimeout(this.#watch)
      this.#ready = true
      this.#lacks = false
      this.#took = data.ms
      this.#state('ready', {way: this.#way, ms: data.ms})
      this.#next()
    } else if (data.type === ANSWER && this.#busy?.id === data.id) {
      clearTimeout(this.#watch)
      this.#tellSlow(null)
      const {resolve} = this.#busy
      this.#busy = undefined
      resolve(data.answer)
      this.#next()
    }
  }

  #next() {
    if (!this.#ready || this.#busy) return
    const request = this.#lanes.get('plan') ?? this.#lanes.values().next().value // what is typed comes first
    if (!request) return
    this.#lanes.delete(request.lane)
    request.since = performance.now()
    this.#busy = request
    this.#watchSlow()
    this.#send({type: ASK, id: request.id, request: request.text})
    this.#watch = setTimeout(() => this.#broke('no answer came'), ANSWER_WITHIN)
  }

  // ------------------------------------------------------------ what takes long

  /**
   * An answer that takes long is told. One that a newer request outdates is interrupted, once it has taken longer than a
   * new start would cost; another lane's is asked anew after the newer one.
   */
  #watchSlow() {
    clearTimeout(this.#slow)
    const busy = this.#busy
    if (!busy) return
    const gone = performance.now() - (busy.since ?? 0)
    const isOutdated = this.#lanes.has('plan') || this.#lanes.has(busy.lane)
    const patience = Math.max(SLOW, 2 * this.#took)
    if (isOutdated && gone >= patience) return this.#startAnew()
    const isSlow = gone >= SLOW
    if (isSlow) this.#tellSlow(busy.lane)
    if (!isSlow || isOutdated) this.#slow = setTimeout(() => this.#watchSlow(), (isSlow ? patience : SLOW) - gone)
  }

  /** @param {string | null} lane */
  #tellSlow(lane) {
    clearTimeout(this.#slow)
    if (lane === this.#told) return
    this.#told = lane
    this.#handlers.onSlow(lane)
  }

  /** A worker that is at something hears nothing: another takes its place. */
  #startAnew() {
    this.#ready = false
    this.#tries = 0
    this.#begin(this.#way)
  }

  /** @param {ToWorker} message */
  #send(message) {
    this.#worker?.postMessage(message)
  }

  // ------------------------------------------------------------ failing

  /** @param {FailureKind} kind @param {string} text */
  #failed(kind, text) {
    if (this.#ready) return this.#broke(text)
    if (this.#tries === 1)
      this.#begin(this.#way) // a worker may have been killed, by a device that is short of memory
    else if (kind === 'network' && this.#lacks) this.#give('rest', text)
    else if (kind === 'start' && this.#way === 'frozen') this.#begin('whole')
    else if (this.#way !== 'plain') this.#begin('plain')
    else this.#give(kind, text)
  }

  /**
   * What was ready and broke starts anew, and is asked the same once more: of the lean runtime it may have been a part
   * that is not there.
   * @param {string} text
   */
  #broke(text) {
    this.#ready = false
    if (!this.#busy?.again) {
      if (this.#busy) this.#busy.again = true
      if (this.#way === 'frozen') {
        this.#way = 'whole'
        this.#lacks = true
      }
      this.#startAnew()
    } else this.#give('broke', `The planner broke down over this: ${text}`)
  }

  /**
   * Nothing is answered before the next start, and what waits is told so.
   * @param {keyof typeof CURE} kind
   * @param {string} reason
   */
  #give(kind, reason) {
    this.#stop()
    for (const {resolve} of this.#lanes.values()) resolve(null)
    this.#lanes.clear()
    this.#state('failed', {reason, cure: CURE[kind]})
  }

  /** @param {EngineState} name @param {StateDetail} detail */
  #state(name, detail) {
    document.documentElement.dataset.engine = name
    queueMicrotask(() => this.#handlers.onState(name, detail))
  }
}
