// The way back from a bad deploy: put this in the place of sw.js. It removes what the service worker kept, then itself,
// and lets every tab load from the network. What a person entered is not touched.
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self))
const NAME = `thickset ${new URL('./', worker.location.href).pathname} `

worker.addEventListener('install', () => worker.skipWaiting())

worker.addEventListener('activate', (event) => event.waitUntil(leave()))

async function leave() {
  for (const name of await caches.keys()) if (name.startsWith(NAME)) await caches.delete(name)
  await worker.registration.unregister()
  for (const tab of await worker.clients.matchAll({type: 'window'})) tab.navigate(tab.url)
}
