// The page's side of the service worker: has it hold this version for use without a network, and lets a new version in
// when the person agrees.
import {HELD, TAKE_OVER, UNSAVED, VERIFY} from './messages.js'

/** @import {FromServiceWorker, StartWay, TakenOver, ToServiceWorker, Verified} from './messages.js' */
/**
 * @typedef {object} Handlers
 * @property {(told: {rest: boolean}) => void} onReady this page works without a network, checked; `rest`: in every case
 * @property {(held: {loaded: number, total: number}) => void} onProgress bytes held so far
 * @property {() => void} onUpdateWaiting a new version is whole and waits
 * @property {() => void} onLacking this window has no service worker
 * @property {() => boolean} hasUnsavedWork asked before a new version takes over
 * @property {() => StartWay} way how the core was started: what only that way needs is then held as well
 */

const TRY_AGAIN = 60e3 // after a break [ms], and twice as long after each further one: the device may be full
const OWN = /\/app-(\w+)\//.exec(import.meta.url)?.[1] // the version of this page
const FIRST_ANSWERS = 1e3 // reading all files takes a processor that the engine's first answers want [ms]

/** @type {Handlers} */
const SILENT = {
  onReady() {},
  onProgress() {},
  onUpdateWaiting() {},
  onLacking() {},
  hasUnsavedWork: () => false,
  way: () => 'frozen',
}

/** @param {Partial<Handlers>} [handlers] */
export function startOffline(handlers = {}) {
  const heard = {...SILENT, ...handlers}
  const offline = new Offline(navigator.serviceWorker, heard)
  if (!navigator.serviceWorker) heard.onLacking()
  else offline.start()
  return offline
}

class Offline {
  #container
  #handlers
  /** @type {ServiceWorkerRegistration | undefined} */
  #registration
  #ready = false
  #waiting = 0
  #breaks = 0

  /** @param {ServiceWorkerContainer} container @param {Handlers} handlers */
  constructor(container, handlers) {
    this.#container = container
    this.#handlers = handlers
  }

  start() {
    const container = this.#container
    container.addEventListener('message', ({data, ports}) => this.#hear(data, ports))
    container.startMessages()
    let held = Boolean(container.controller)
    container.addEventListener('controllerchange', () => {
      if (held) location.reload() // this tab is of the version before, and what it might still fetch is gone
      held = true
    })
    addEventListener('online', () => this.#register())
    // Not before the engine has what it needs: two downloads of the same would share one line.
    engineSettled().then(() => setTimeout(() => this.#register(), FIRST_ANSWERS))
  }

  /**
   * Has the worker read all it holds, compare it with its list, and fetch what it lacks.
   * @param {boolean} rest
   * @returns {Promise<Verified>}
   */
  async #verify(rest) {
    const worker = this.#registration?.active
    const plain = this.#handlers.way() === 'plain'
    return worker ? tell(worker, {type: VERIFY, rest, plain}) : {whole: false, missing: []}
  }

  /** Lets the waiting version take over; every tab then loads it. @returns {Promise<TakenOver>} */
  async applyUpdate() {
    const worker = this.#registration?.waiting
    return worker ? tell(worker, {type: TAKE_OVER}) : {done: false}
  }

  /** @param {FromServiceWorker} data @param {readonly MessagePort[]} ports */
  #hear(data, ports) {
    // A page that is ready stays so while the next version is fetched.
    if (data.type === HELD && data.id === OWN && !this.#ready)
      this.#handlers.onProgress({loaded: data.loaded, total: data.total})
    if (data.type === UNSAVED) ports[0].postMessage({unsaved: this.#handlers.hasUnsavedWork()})
  }

  async #register() {
    try {
      const known = this.#registration
      const registration = await this.#container.register(new URL('../sw.js', import.meta.url), {
        scope: new URL('../', import.meta.url).pathname,
        updateViaCache: 'none',
      })
      this.#registration = registration
      if (known === registration) {
        if (registration.active) await registration.update() // a break may have been in the next version
      } else this.#watch(registration)
      if (registration.active && !this.#ready) this.#tellReady()
    } catch {
      this.#again()
    }
  }

  /** @param {ServiceWorkerRegistration} registration */
  #watch(registration) {
    registration.addEventListener('updatefound', () => this.#follow(registration, registration.installing))
    if (registration.installing) this.#follow(registration, registration.installing)
    if (registration.waiting) this.#handlers.onUpdateWaiting()
  }

  /** @param {ServiceWorkerRegistration} registration @param {ServiceWorker | null} worker */
  #follow(registration, worker) {
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'activated') this.#tellReady()
      if (worker.state === 'installed' && registration.active) this.#handlers.onUpdateWaiting()
      if (worker.state === 'redundant' && worker !== registration.active) this.#again()
    })
  }

  async #tellReady() {
    // The rest of the runtime is rarely needed: where data are saved it waits until it is.
    const {connection} = /** @type {Navigator & {connection?: {saveData: boolean}}} */ (navigator) // not in every browser
    const saves = Boolean(connection?.saveData)
    const rest = this.#handlers.way() !== 'frozen' || !saves
    this.#ready = (await this.#verify(rest)).whole
    if (this.#ready) return this.#handlers.onReady({rest})
    if (rest && saves && (await this.#verify(false)).whole) this.#handlers.onReady({rest: false})
    this.#again()
  }

  #again() {
    clearTimeout(this.#waiting)
    this.#waiting = setTimeout(() => this.#register(), TRY_AGAIN * 2 ** this.#breaks)
    this.#breaks += 1
  }
}

/**
 * What a service worker answers.
 * @template T
 * @param {ServiceWorker} worker
 * @param {ToServiceWorker} message
 * @returns {Promise<T>}
 */
function tell(worker, message) {
  return new Promise((resolve) => {
    const {port1, port2} = new MessageChannel()
    port1.onmessage = ({data}) => resolve(data)
    worker.postMessage(message, [port2])
  })
}

/** @returns {Promise<void>} */
function engineSettled() {
  const root = document.documentElement
  const settled = () => root.dataset.engine !== 'loading'
  return new Promise((resolve) => {
    if (settled()) resolve()
    else
      new MutationObserver((_, observer) => {
        if (!settled()) return
        observer.disconnect()
        resolve()
      }).observe(root, {attributes: true, attributeFilter: ['data-engine']})
  })
}
