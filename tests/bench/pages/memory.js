self.onmessage = async ({data: {app, requests}}) => {
  const {startFrozen} = await import(new URL(`../${app}/worker.js`, import.meta.url))
  const {pyodide, handle} = await startFrozen()
  for (const request of requests) handle(request)
  postMessage(pyodide._module.HEAPU8.length)
}
