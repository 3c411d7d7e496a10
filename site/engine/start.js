// Starts Python in a worker. The frozen way copies a heap that the build warmed up; the plain way starts Python from
// scratch and installs the wheels. Both end in the same thing: Pyodide with the core's one door imported. The runtime is
// lean, without what the core never calls, or whole.
import {BUILD} from './built.js'
import {address, Fetched, StartError} from './fetched.js'
import {putTogether, readHeap, unpacking} from './heap.js'
import {STAGES} from './messages.js'

/** @import {Progress} from './messages.js' */
/** @typedef {(told: Progress) => void} Tell */
/**
 * As much of Pyodide's own module as is used here.
 * @typedef {object} PyodideModule
 * @property {Int32Array} HEAP32
 * @property {Uint8Array} HEAPU8
 * @property {(bytes: number) => void} growMemory
 * @property {number} __PyRuntime
 * @property {number} __PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET
 */
/** @typedef {(request: string) => string} Handle The core's one door. */
/** @typedef {{callKwargs: (...given: unknown[]) => Promise<void>}} PythonCall */
/**
 * As much of Pyodide as is used here.
 * @typedef {object} Pyodide
 * @property {{get: {(name: 'handle'): Handle, (name: 'renew'): () => void}}} globals
 * @property {(name: string, options: object) => Promise<unknown>} loadPackage
 * @property {{(name: 'micropip'): {install: PythonCall}, (name: 'thickset.doors.api'): {handle: Handle}}} pyimport
 */
/** @typedef {(settings: object) => Promise<PyodideModule>} MakeModule */
/** @typedef {[{loadPyodide: (settings: object) => Promise<Pyodide>}, {default: MakeModule}]} Scripts */

const WASM = `${BUILD.runtime}pyodide.asm.wasm`
const REST = `${BUILD.runtime}pyodide.asm.rest`
const NO_STDLIB = 'no-stdlib.zip' // never fetched: a frozen heap needs no standard library
/** @param {string} name */
const mark = (name) => performance.mark(name) // for the bench, and for whoever looks with a profiler
const EMPTY_ZIP = new Uint8Array([0x50, 0x4b, 5, 6, ...new Array(18).fill(0)])

/**
 * Start from the frozen heap, on the lean runtime or the `whole` one. `tell({stage, loaded, total})` hears of progress;
 * `counted` says whether bytes are counted; `filled(memory)` sees the memory before anything runs in it.
 * @param {{tell?: Tell, counted?: boolean, whole?: boolean, filled?: (memory: Uint8Array) => void}} [how]
 */
export async function startFrozen({tell = () => {}, counted = true, whole = false, filled = () => {}} = {}) {
  const fetched = new Fetched(tell, counted)
  mark('worker runs')
  const unpacked = unpacking(fetched)
  const heap = unpacked(BUILD.frozen.file).then(readHeap)
  heap.then(
    () => mark('heap unpacked'),
    () => {},
  ) // a failure is waited for below
  const compiled = whole ? compileWhole(fetched, unpacked) : fetched.compile(WASM)
  fetched.give(NO_STDLIB, () => new Response(EMPTY_ZIP))
  compiled.then(
    () => mark('wasm compiled'),
    () => {},
  )
  const modules = runtime(fetched)
  const pyodide = await guarded(fetched, async () => {
    const [{loadPyodide}, {default: createModule}] = await modules
    mark('scripts run')
    const {header, length, write} = await heap
    return loadPyodide({
      ...common(),
      stdLibURL: address(NO_STDLIB),
      _loadSnapshot: header,
      createPyodideModule: async (/** @type {object} */ settings) => {
        const module = await createModule(settings)
        mark('instance made')
        if (module.HEAPU8.length < length) module.growMemory(length)
        if (module.HEAPU8.length !== length)
          throw new StartError('start', 'The memory has another size than the frozen one')
        const place = trampolinePlace(module)
        const trampoline = module.HEAP32[place]
        write(module.HEAPU8)
        mark('memory written')
        filled(module.HEAPU8)
        module.HEAP32[place] = trampoline
        return module
      },
    })
  })
  mark('Pyodide done')
  tell({stage: STAGES.core})
  pyodide.globals.get('renew')()
  return {pyodide, handle: pyodide.globals.get('handle')}
}

/**
 * Start from the standard library and the wheels, all from our own files.
 * @param {{tell?: Tell, counted?: boolean}} [how]
 */
export async function startPlain({tell = () => {}, counted = true} = {}) {
  const fetched = new Fetched(tell, counted)
  compileWhole(fetched, unpacking(fetched))
  for (const file of [BUILD.plain.stdlib, BUILD.plain.installer, ...BUILD.plain.install]) fetched.open(file)
  const modules = runtime(fetched)
  return guarded(fetched, async () => {
    const [{loadPyodide}, {default: createPyodideModule}] = await modules
    const pyodide = await loadPyodide({...common(), createPyodideModule, stdLibURL: address(BUILD.plain.stdlib)})
    tell({stage: STAGES.core})
    await pyodide.loadPackage('micropip', {messageCallback() {}})
    const micropip = pyodide.pyimport('micropip')
    await micropip.install.callKwargs(BUILD.plain.install.map(address), {deps: false})
    return {pyodide, handle: pyodide.pyimport('thickset.doors.api').handle}
  })
}

/**
 * Compile the runtime with nothing left out.
 * @param {Fetched} fetched
 * @param {ReturnType<typeof unpacking>} unpacked
 */
function compileWhole(fetched, unpacked) {
  const rest = unpacked(REST)
  rest.catch(fetched.fail)
  return fetched.compile(WASM, async (lean) => WebAssembly.compile(putTogether(await lean.arrayBuffer(), await rest)))
}

/**
 * Pyodide's scripts, which are on their way like the files, though a browser counts no bytes of them.
 * @param {Fetched} fetched
 * @returns {Promise<Scripts>}
 */
function runtime(fetched) {
  const scripts = Promise.all([
    import(address(`${BUILD.runtime}pyodide.mjs`)),
    import(address(`${BUILD.runtime}pyodide.asm.mjs`)),
  ])
  fetched.files += 1
  return scripts.then(
    (modules) => {
      fetched.arrived()
      return modules
    },
    (error) =>
      Promise.reject(
        new StartError(
          error instanceof SyntaxError ? 'start' : 'network',
          `A script could not be fetched: ${error.message}`,
        ),
      ),
  )
}

const common = () => ({
  indexURL: address(BUILD.runtime),
  lockFileContents: BUILD.lock,
  packageBaseUrl: address(BUILD.plain.folder),
  env: {...BUILD.env},
})

/**
 * Run a start with `fetch` answering from the files on their way, and with every silent failure made a loud one.
 * @template T
 * @param {Fetched} fetched
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 */
async function guarded(fetched, work) {
  const own = {fetch: globalThis.fetch, instantiate: WebAssembly.instantiateStreaming}
  globalThis.fetch = (resource, options) => {
    const url = resource instanceof Request ? resource.url : String(resource)
    const get = fetched.waiting.get(url)
    fetched.waiting.delete(url)
    return get ? Promise.resolve(get()) : own.fetch.call(globalThis, resource, options)
  }
  // Pyodide only warns when this fails, and then waits for ever.
  WebAssembly.instantiateStreaming = async (_, imports) => {
    const module = await fetched.module
    if (!module) throw new StartError('start', 'No module was on its way')
    try {
      return {module, instance: await WebAssembly.instantiate(module, imports)}
    } catch (error) {
      fetched.fail(new StartError('start', `The planner's module did not start: ${error}`))
      throw error
    }
  }
  const started = await Promise.race([work(), fetched.broken])
  // Not after a failure: Pyodide may still be on its way then, and would ask the network for what is not there.
  globalThis.fetch = own.fetch
  WebAssembly.instantiateStreaming = own.instantiate
  return started
}

/**
 * Where Python keeps the function through which it calls C functions, in words. Each instance makes its own, where the
 * browser can; 0 stands for a detour through JavaScript, which is what is frozen.
 * @param {PyodideModule} module
 */
export function trampolinePlace({HEAP32, __PyRuntime, __PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET}) {
  return (__PyRuntime + HEAP32[__PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET / 4]) / 4
}
