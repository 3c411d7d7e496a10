self.onmessage = async ({data: {app, way, before, requests, after}}) => {
  try {
    const {BUILD, startFrozen, startPlain, trampolinePlace} = await import(
      new URL(`../${app}/worker.js`, import.meta.url)
    )
    let memory
    const {pyodide, handle} = await (way === 'plain' ? startPlain : startFrozen)({
      whole: way === 'whole',
      filled: (bytes) => (memory = bytes.slice()),
    })
    const hash = memory && (await crypto.subtle.digest('SHA-256', memory))
    const hex = hash && Array.from(new Uint8Array(hash), (byte) => byte.toString(16).padStart(2, '0')).join('')
    const run = (code) => code && JSON.parse(pyodide.runPython(code))
    postMessage({
      memory: hex,
      expected: BUILD.frozen.memory,
      before: run(before),
      answers: requests.map((request) => handle(request)),
      after: run(after),
      trampoline: pyodide._module.HEAP32[trampolinePlace(pyodide._module)],
      now: Date.now(),
    })
  } catch (error) {
    postMessage({failed: `${error?.message ?? error}`})
  }
}
