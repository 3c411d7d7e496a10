// What the pages of the bench share: this build's settings, the request, and how the end is told.
const app = new URLSearchParams(location.search).get('app')
export const root = new URL('../', location.href)
export const {BUILD, Fetched, readHeap, unpacking} = await import(new URL(`${app}/worker.js`, root))
export const address = (file) => new URL(file, root).href
export const request = async () => (await fetch('request.json')).text()
export function done(answer) {
  if (!answer.ok) throw new Error(JSON.stringify(answer))
  window.benchEnd = performance.now()
}
/** Pyodide as it is published. */
export const PYODIDE = address('bench/pyodide/')
export const options = () => ({
  indexURL: PYODIDE,
  lockFileContents: BUILD.lock,
  packageBaseUrl: address(BUILD.plain.folder),
  stdLibURL: address(BUILD.plain.stdlib),
})
