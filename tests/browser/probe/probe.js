// For the tests: start the core in a worker of its own, ask it, and run Python in it. `probe(app, order)` gives JSON.
window.probe = (app, order) =>
  new Promise((resolve) => {
    const worker = new Worker(new URL('probe-worker.js', import.meta.url), {type: 'module'})
    const end = (told) => {
      worker.terminate()
      resolve(JSON.stringify(told))
    }
    worker.onmessage = ({data}) => end(data)
    worker.onerror = (event) => end({failed: event.message ?? 'the worker could not start'})
    worker.postMessage({app, ...order})
  })
document.title = 'Probe ready'
