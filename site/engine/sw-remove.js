// The way back from a bad deploy: put this in the place of sw.js. It removes what the service worker kept, then itself, and
// lets every tab load from the network. What a person entered is not touched.
const NAME = `thickset ${new URL('./', self.location).pathname} `

self.addEventListener('install', () => self.skipWaiting())

self.addEventListener('activate', (event) => event.waitUntil(leave()))

async function leave() {
  for (const name of await caches.keys()) if (name.startsWith(NAME)) await caches.delete(name)
  await self.registration.unregister()
  for (const tab of await self.clients.matchAll({type: 'window'})) tab.navigate(tab.url)
}
