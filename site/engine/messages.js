// Every message between page, worker and service worker, by name. Nothing else names one.

/** Page to worker. */
export const START = 'start' // { way: 'frozen' | 'plain', counted: boolean }
export const ASK = 'ask' // { id, request }

/** Worker to page. */
export const STAGE = 'stage' // { stage, loaded, total }
export const READY = 'ready' // { way, ms }
export const FAILED = 'failed' // { way, kind: 'network' | 'start', stage, text }
export const ANSWER = 'answer' // { id, answer }

/** The stages of a start, in their order. */
export const STAGES = {fetch: 'fetch', python: 'python', core: 'core'}

/** Page to service worker; each is answered on the port that comes with it. */
export const VERIFY = 'verify' // { plain: whether the plain start is held as well } -> { id, whole, missing: [names] }
export const TAKE_OVER = 'take-over' // -> { done } or { busy: number of tabs with unsaved work }

/** Service worker to page. */
export const HELD = 'held' // { id, loaded, total }: bytes held for use without a network
export const UNSAVED = 'unsaved?' // answered on its port with { unsaved }
