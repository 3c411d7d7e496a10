// The page's side of the service worker: has it hold this version for use without a network, and lets a new version in when
// the person agrees.
import {HELD, TAKE_OVER, UNSAVED, VERIFY} from './messages.js'

const TRY_AGAIN = 60e3 // after a break [ms], and twice as long after each further one: the device may be full
const OWN = /\/app-(\w+)\//.exec(import.meta.url)?.[1] // the version of this page
const FIRST_ANSWERS = 1e3 // reading all files takes a processor that the engine's first answers want [ms]

/**
 * `onReady({id})`: this page works without a network, checked. `onProgress({loaded, total})`: bytes held so far.
 * `onUpdateWaiting()`: a new version is whole and waits. `onLacking()`: this window has no service worker. `hasUnsavedWork()`: asked before a new version takes over.
 * `isPlain()`: whether this device needs the plain start, which is then held as well.
 */
export function startOffline({
  onReady = () => {},
  onProgress = () => {},
  onUpdateWaiting = () => {},
  onLacking = () => {},
  hasUnsavedWork = () => false,
  isPlain = () => false,
} = {}) {
  const container = navigator.serviceWorker
  let registration
  let ready = false
  if (!container) {
    onLacking()
    return {applyUpdate: async () => ({done: false}), verify: async () => ({whole: false, missing: []})}
  }

  container.addEventListener('message', ({data, ports}) => {
    // A page that is ready stays so while the next version is fetched.
    if (data.type === HELD && data.id === OWN && !ready) onProgress({loaded: data.loaded, total: data.total})
    if (data.type === UNSAVED) ports[0].postMessage({unsaved: hasUnsavedWork()})
  })
  container.startMessages()
  let held = Boolean(container.controller)
  container.addEventListener('controllerchange', () => {
    if (held) location.reload() // this tab is of the version before, and what it might still fetch is gone
    held = true
  })

  async function register() {
    const known = registration
    registration = await container.register(new URL('../sw.js', import.meta.url), {
      scope: new URL('../', import.meta.url).pathname,
      updateViaCache: 'none',
    })
    if (known === registration) {
      if (registration.active) await registration.update() // a break may have been in the next version
    } else {
      registration.addEventListener('updatefound', () => follow(registration.installing))
      if (registration.installing) follow(registration.installing)
      if (registration.waiting) onUpdateWaiting()
    }
    if (registration.active && !ready) tellReady()
  }

  function follow(worker) {
    worker.addEventListener('statechange', () => {
      if (worker.state === 'activated') tellReady()
      if (worker.state === 'installed' && registration.active) onUpdateWaiting()
      if (worker.state === 'redundant' && worker !== registration.active) again()
    })
  }

  async function tellReady() {
    const told = await verify()
    ready = told.whole
    if (ready) onReady(told)
  }

  let waiting
  let breaks = 0
  function again() {
    clearTimeout(waiting)
    waiting = setTimeout(() => register().catch(again), TRY_AGAIN * 2 ** breaks)
    breaks += 1
  }
  addEventListener('online', () => register().catch(again))

  /** Have the worker read all it holds and compare it with its list. */
  async function verify() {
    return registration?.active
      ? tell(registration.active, {type: VERIFY, plain: isPlain()})
      : {whole: false, missing: []}
  }

  /** Let the waiting version take over; every tab then loads it. { busy } tells how many tabs have unsaved work. */
  async function applyUpdate() {
    return registration?.waiting ? tell(registration.waiting, {type: TAKE_OVER}) : {done: false}
  }

  // Not before the engine has what it needs: two downloads of the same would share one line.
  engineSettled().then(() => setTimeout(() => register().catch(again), FIRST_ANSWERS))
  return {applyUpdate, verify}
}

function tell(worker, message) {
  return new Promise((resolve) => {
    const {port1, port2} = new MessageChannel()
    port1.onmessage = ({data}) => resolve(data)
    worker.postMessage(message, [port2])
  })
}

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
