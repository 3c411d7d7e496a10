// The page's side of the engine: starts the worker, watches over its start, and keeps the latest request of each lane.
import {ANSWER, ASK, FAILED, READY, STAGE, STAGES, START} from './messages.js'

/** How long a stage may stay silent: after the first number [ms] the page says what helps, after the second it is given up. */
const PATIENCE = {
  frozen: {fetch: [8e3, 45e3], python: [8e3, 40e3], core: [5e3, 20e3]},
  plain: {fetch: [8e3, 45e3], python: [20e3, 120e3], core: [20e3, 120e3]},
}
const ANSWER_WITHIN = 180e3 // a cutting plan of a hundred boards on a slow phone takes less than a minute [ms]
const TEXT = {
  frozen: {fetch: 'Fetching the planner', python: 'Starting the planner', core: 'Starting the planner'},
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
    'Load the page again; if that does not help, try another browser or update this one. What you entered is kept.',
  broke: 'Change what you entered last, then try again. What you entered is kept.',
  lacking:
    'This browser lacks what the planner runs on (WebAssembly and module workers). Use a current browser. What you entered is kept.',
}

/**
 * Start the engine. `onState(state, detail)` hears 'loading', 'ready' and 'failed' ({reason, cure});
 * `onStage({stage, loaded, total, text, slow})` hears how the start goes. Neither is called before the caller is done.
 */
export function createEngine({onState = () => {}, onStage = () => {}} = {}) {
  const lanes = new Map() // lane -> the request that waits
  let worker, busy, tries, way, watch
  let ids = 0

  function state(name, detail) {
    document.documentElement.dataset.engine = name
    queueMicrotask(() => onState(name, detail))
  }

  function restart() {
    tries = 0
    if (typeof WebAssembly !== 'object' || typeof DecompressionStream !== 'function') {
      give('lacking', 'WebAssembly or DecompressionStream is missing')
      return
    }
    begin('frozen')
  }

  function begin(nextWay) {
    stop()
    way = nextWay
    tries += 1
    state('loading', {way})
    worker = new Worker(new URL('./worker.js', import.meta.url), {type: 'module'})
    const mine = worker
    worker.onmessage = ({data}) => mine === worker && hear(data)
    worker.onerror = (event) => {
      event.preventDefault?.()
      // A script that did not come has no message; one that this browser cannot run has.
      if (mine === worker)
        failed({kind: event.message ? 'start' : 'network', text: event.message || 'The worker could not be loaded'})
    }
    worker.postMessage({type: START, way, counted: !navigator.serviceWorker?.controller})
    stage({stage: STAGES.fetch})
  }

  function stop() {
    clearTimeout(watch)
    worker?.terminate()
    worker = undefined
    if (busy) {
      if (!lanes.has(busy.lane)) lanes.set(busy.lane, busy)
      else busy.resolve(null)
    }
    busy = undefined
  }

  function hear(data) {
    if (data.type === STAGE) stage(data)
    else if (data.type === FAILED) failed(data)
    else if (data.type === READY) {
      clearTimeout(watch)
      watch = undefined
      ready = true
      state('ready', {way, ms: data.ms})
      next()
    } else if (data.type === ANSWER && busy?.id === data.id) {
      clearTimeout(watch)
      const {resolve} = busy
      busy = undefined
      resolve(data.answer)
      next()
    }
  }

  let ready = false

  function stage(told) {
    ready = false
    const [slowAfter, endAfter] = PATIENCE[way][told.stage]
    const shown = {total: 0, loaded: 0, ...told, text: TEXT[way][told.stage]}
    queueMicrotask(() => onStage(shown))
    clearTimeout(watch)
    watch = setTimeout(() => {
      onStage({...shown, slow: HELP[told.stage]})
      watch = setTimeout(
        () => failed({kind: told.stage === STAGES.fetch ? 'network' : 'start', text: `"${shown.text}" took too long`}),
        endAfter - slowAfter,
      )
    }, slowAfter)
  }

  function failed({kind, text}) {
    if (ready) return broke(text)
    if (tries === 1) begin(kind === 'network' ? way : 'plain')
    else if (way === 'frozen') begin('plain')
    else give(kind, text)
  }

  /** What was ready and broke starts anew, and is asked the same once more. */
  function broke(text) {
    ready = false
    tries = 0
    if (!busy?.again) {
      if (busy) busy.again = true
      begin(way)
    } else give('broke', `The planner broke down over this: ${text}`)
  }

  /** Nothing is answered before the next start, and what waits is told so. */
  function give(kind, reason) {
    stop()
    for (const {resolve} of lanes.values()) resolve(null)
    lanes.clear()
    state('failed', {reason, cure: CURE[kind]})
  }

  function next() {
    if (!ready || busy || !lanes.size) return
    const lane = lanes.has('plan') ? 'plan' : lanes.keys().next().value // what is typed comes first
    const request = lanes.get(lane)
    lanes.delete(lane)
    busy = request
    worker.postMessage({type: ASK, id: request.id, request: request.text})
    watch = setTimeout(() => broke('no answer came'), ANSWER_WITHIN)
  }

  /** Ask with the words of the request; resolves to the words of the answer, or null when a later request took its place. */
  function askText(text, lane = 'plan') {
    return new Promise((resolve) => {
      lanes.get(lane)?.resolve(null)
      lanes.set(lane, {id: ++ids, lane, text, resolve})
      next()
    })
  }

  /** Ask; resolves to the answer, or null when a later request of the same lane took its place. */
  async function ask(request, lane) {
    const answer = await askText(JSON.stringify(request), lane)
    return answer === null ? null : JSON.parse(answer)
  }

  // A worker that begins before the first frame takes the processor from it, and is ready no sooner. A hidden page makes no frame.
  if (document.hidden) restart()
  else requestAnimationFrame(restart)
  return {ask, askText, restart, way: () => way}
}
