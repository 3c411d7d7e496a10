// The service worker: holds one whole version for use without a network, and never mixes two.
//
// Files are fetched one by one into this version's own caches, each checked against its hash; what is there already is
// not fetched again, so a break costs one file. Only when all are there is this version installed, and only when a
// person agrees does it take over from the one before.
import {HELD, TAKE_OVER, UNSAVED, VERIFY} from './messages.js'

/** @import {FromServiceWorker, TakenOver, ToServiceWorker, Unsaved, Verified} from './messages.js' */
/** Paths, each with its hash and its size [bytes]. @typedef {Record<string, [hash: string, bytes: number]>} Files */
/**
 * @typedef {{id: string, runtime: string, app_files: Files, runtime_files: Files, rest_files: Files, plain_files: Files}}
 *   List
 */

/**
 * Filled in by the build: { id, runtime, app_files: { path: [hash, bytes] }, and the same in runtime_files, rest_files,
 * plain_files }
 */
const LIST = /** @type {List} */ (/** @type {unknown} */ ('BUILT_LIST'))
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self))
const FILES = {...LIST.app_files, ...LIST.runtime_files}
// What the page asks for once it is ready: the rest of the runtime; and the plain start, where the frozen heap did not start.
const ALL = {...FILES, ...LIST.rest_files, ...LIST.plain_files}
const SCOPE = new URL('./', self.location.href)
const NAME = `thickset ${SCOPE.pathname}` // one origin may hold several pages, and their caches are in one heap
const APP = `${NAME} app ${LIST.id}`
const RUNTIME = `${NAME} runtime ${LIST.runtime}`
/** @type {Record<string, string>} */
const TYPES = {
  wasm: 'application/wasm',
  js: 'text/javascript',
  mjs: 'text/javascript',
  css: 'text/css',
  html: 'text/html; charset=utf-8',
}
// What others made: fetched when a person asks, and not kept.
const ON_ASKING = ['notices.txt', 'bom.json']
const NOT_HERE = 'This list is not among what is kept for use without a network. Connect, then open it again.'
const LARGE = 100_000 // [bytes]
const ANSWER_WITHIN = 1500 // a tab that does not answer in this time [ms] may hold what was typed and not stored

/** @param {string} path */
const place = (path) => new URL(path, SCOPE).href
/** @param {string} path */
const cacheOf = (path) => caches.open(path in LIST.runtime_files || path in LIST.rest_files ? RUNTIME : APP)
const ours = async () => (await caches.keys()).filter((name) => name.startsWith(`${NAME} `))

worker.addEventListener('install', (event) => event.waitUntil(fill()))

worker.addEventListener('activate', (event) =>
  event.waitUntil(
    ours().then((names) =>
      Promise.all(names.filter((name) => name !== APP && name !== RUNTIME).map((name) => caches.delete(name))),
    ),
  ),
)

worker.addEventListener('fetch', (event) => {
  const {request} = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== SCOPE.origin || !url.pathname.startsWith(SCOPE.pathname)) return
  const path = url.pathname.slice(SCOPE.pathname.length) || 'index.html' // of a link to a plan the page reads the rest
  if (Object.hasOwn(ALL, path))
    event.respondWith(
      sound(path)
        .catch(() => {})
        .then((response) => response ?? fetch(request))
        .catch((gone) => rescue(request, gone)),
    )
  if (ON_ASKING.includes(path)) event.respondWith(fetch(request).catch(() => new Response(NOT_HERE)))
})

worker.addEventListener('message', (event) => {
  const [port] = event.ports
  const data = /** @type {ToServiceWorker} */ (event.data)
  if (data.type === VERIFY) {
    const files = {...FILES, ...(data.rest ? LIST.rest_files : {}), ...(data.plain ? LIST.plain_files : {})}
    event.waitUntil(verify(files).then((told) => port.postMessage(told)))
  }
  if (data.type === TAKE_OVER) event.waitUntil(takeOver().then((told) => port.postMessage(told)))
})

/**
 * A page that can be had nowhere gives way to the one that saves what is stored.
 * @param {Request} request
 * @param {unknown} gone
 */
async function rescue({mode}, gone) {
  const response = mode === 'navigate' ? await held('rescue.html').catch(() => undefined) : undefined
  if (!response) throw gone
  return response
}

/**
 * What is held, unless it is spoiled: a page that does not run mends nothing. The large files of the runtime are not read
 * for that at each start: what is wrong in them the page hears of, and has it mended.
 * @param {string} path
 */
async function sound(path) {
  const response = await held(path)
  const [hash, bytes] = ALL[path]
  const isRead = !(path in LIST.runtime_files) || bytes < LARGE
  return response && isRead && (await sum(response.clone())) !== hash ? undefined : response
}

/** @param {string} path */
const held = async (path) => (await cacheOf(path)).match(place(path))

/** Fetch what is missing. */
async function fill(files = FILES) {
  let loaded = 0
  const total = Object.values(files).reduce((sum, [, bytes]) => sum + bytes, 0)
  for (const [path, [hash, bytes]] of Object.entries(files)) {
    if (!(await held(path))) await (await cacheOf(path)).put(place(path), await fetched(path, hash))
    loaded += bytes
    for (const tab of await tabs()) tell(tab, {type: HELD, id: LIST.id, loaded, total})
  }
}

/**
 * One file, sure to be the one of the list: from the version before, when its name is made from its bytes; else from
 * the host.
 * @param {string} path
 * @param {string} hash
 */
async function fetched(path, hash) {
  if (/^(frozen|runtime)-/.test(path)) {
    for (const name of await ours()) {
      const before = await (await caches.open(name)).match(place(path))
      if (before && (await sum(before.clone())) === hash) return before
    }
  }
  const address = path === 'index.html' ? SCOPE.href : place(path)
  const get = (/** @type {RequestCache} */ cache) => fetch(address, {cache, integrity: hash})
  // What lay on the way may have been of another version.
  const response = await get('no-cache').catch(() => get('reload'))
  // The host may name it wrongly today and rightly tomorrow: what is kept stays.
  const headers = new Headers(response.headers)
  const type = TYPES[path.split('.').pop() ?? '']
  if (type) headers.set('content-type', type)
  return new Response(response.body, {headers})
}

/** @param {Response} response */
async function sum(response) {
  const bytes = new Uint8Array(await crypto.subtle.digest('SHA-256', await response.arrayBuffer()))
  return `sha256-${btoa(String.fromCharCode(...bytes))}`
}

/**
 * Read every one of these files and compare it with its hash; what is missing or spoiled is fetched anew, and stays as
 * it is where that cannot be: a spoiled page may still open, one that is gone does not. The tab that asks, if it was
 * loaded past this worker (a first visit, a forced reload), is held from then on: else a new version would not wait for
 * it.
 * @param {Files} files
 * @returns {Promise<Verified>}
 */
async function verify(files) {
  await worker.clients.claim()
  /** @type {string[]} */
  const missing = []
  let lost = 0
  for (const [path, [hash]] of Object.entries(files)) {
    if (await isSound(path, hash)) continue
    missing.push(path)
    await replace(path, hash).catch(() => {
      lost += 1
    })
  }
  const mended =
    missing.length > 0 &&
    lost === 0 &&
    (await fill(files).then(
      () => true,
      () => false,
    ))
  return {id: LIST.id, whole: missing.length === 0 || mended, missing}
}

/** @param {string} path @param {string} hash */
const isSound = (path, hash) =>
  held(path)
    .then(async (response) => response !== undefined && (await sum(response)) === hash)
    .catch(() => false)

/** @param {string} path @param {string} hash */
const replace = async (path, hash) => (await cacheOf(path)).put(place(path), await fetched(path, hash))

/** The tabs that this page is open in; the host may have others. */
async function tabs() {
  const all = await worker.clients.matchAll({type: 'window', includeUncontrolled: true})
  return all.filter(({url}) => url.startsWith(SCOPE.href))
}

/** Whether things are typed in a tab; elsewhere nothing can be unsaved. @param {Client} tab */
const isPage = ({url}) => ['', 'index.html'].includes(url.slice(SCOPE.href.length).split(/[?#]/)[0])

/** Take over from the version before, unless a tab has work that is not saved. @returns {Promise<TakenOver>} */
async function takeOver() {
  const unsaved = await Promise.all((await tabs()).map(ask))
  const busy = unsaved.filter(Boolean).length
  if (busy) return {busy}
  await worker.skipWaiting()
  return {done: true}
}

/** @param {Client} tab @param {FromServiceWorker} message @param {Transferable[]} [along] */
function tell(tab, message, along = []) {
  tab.postMessage(message, along)
}

/** Whether a tab has something that is not saved, as far as it says. @param {Client} tab @returns {Promise<boolean>} */
function ask(tab) {
  return new Promise((resolve) => {
    const {port1, port2} = new MessageChannel()
    port1.onmessage = (/** @type {MessageEvent<Unsaved>} */ {data}) => resolve(data.unsaved)
    setTimeout(() => resolve(isPage(tab)), ANSWER_WITHIN)
    tell(tab, {type: UNSAVED}, [port2])
  })
}
