// Every message between page, worker and service worker, by name. Nothing else names one.

/**
 * How the core is started: from the heap that the build froze, on the lean runtime or on the whole one; or Python from
 * scratch.
 * @typedef {'frozen' | 'whole' | 'plain'} StartWay
 */
/** @typedef {'fetch' | 'python' | 'core'} Stage */
/** @typedef {{stage: Stage, loaded?: number, total?: number}} Progress */
/**
 * What stopped a start: 'network' when trying the same again may help.
 * @typedef {'network' | 'start'} FailureKind
 */

/** @typedef {{type: 'start', way: StartWay, counted: boolean} | {type: 'ask', id: number, request: string}} ToWorker */
/**
 * @typedef {({type: 'stage'} & Progress)
 *   | {type: 'ready', way: StartWay, ms: number, marks: [string, number][]}
 *   | {type: 'failed', way: StartWay, kind: FailureKind, stage: Stage, text: string}
 *   | {type: 'answer', id: number, answer: string}} FromWorker
 */
/**
 * Each is answered on the port that comes with it, with Verified or with TakenOver. `rest`, `plain`: whether the rest of
 * the runtime and the plain start are held as well.
 * @typedef {{type: 'verify', rest: boolean, plain: boolean} | {type: 'take-over'}} ToServiceWorker
 */
/** @typedef {{id?: string, whole: boolean, missing: string[]}} Verified */
/** @typedef {{done?: boolean, busy?: number}} TakenOver `busy`: how many tabs have unsaved work. */
/**
 * Bytes held for use without a network; or a question, answered on its port with Unsaved.
 * @typedef {{type: 'held', id: string, loaded: number, total: number} | {type: 'unsaved?'}} FromServiceWorker
 */
/** @typedef {{unsaved: boolean}} Unsaved */

/** Page to worker. */
export const START = 'start'
export const ASK = 'ask'

/** Worker to page. */
export const STAGE = 'stage'
export const READY = 'ready'
export const FAILED = 'failed'
export const ANSWER = 'answer'

/** The stages of a start, in their order. @type {{readonly [stage in Stage]: stage}} */
export const STAGES = {fetch: 'fetch', python: 'python', core: 'core'}

/** Page to service worker. */
export const VERIFY = 'verify'
export const TAKE_OVER = 'take-over'

/** Service worker to page. */
export const HELD = 'held'
export const UNSAVED = 'unsaved?'
