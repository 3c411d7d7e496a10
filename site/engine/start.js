// Starts Python in a worker. The frozen way copies a heap that the build warmed up; the plain way starts Python from
// scratch and installs the wheels. Both end in the same thing: Pyodide with the core's one door imported.
import {BUILD} from './built.js'
import {STAGES} from './messages.js'

const here = new URL('../', import.meta.url) // the build puts our scripts one folder down
const address = (file) => new URL(file, here).href
const WASM = BUILD.runtime + 'pyodide.asm.wasm'
const BETWEEN = 100 // bytes are told ten times a second; each telling costs a turn of both threads [ms]
const NO_STDLIB = 'no-stdlib.zip' // never fetched: a frozen heap needs no standard library
const mark = (name) => performance.mark(name) // for the bench, and for whoever looks with a profiler
const EMPTY_ZIP = new Uint8Array([0x50, 0x4b, 5, 6, ...new Array(18).fill(0)])

/** What stopped a start: `kind` is 'network' when trying the same again may help. */
export class StartError extends Error {
  constructor(kind, text) {
    super(text)
    this.kind = kind
  }
}

/**
 * Start from the frozen heap. `tell({stage, loaded, total})` hears of progress; `counted` says whether bytes are counted;
 * `filled(memory)` sees the memory before anything runs in it.
 */
export async function startFrozen({tell = () => {}, counted = true, filled = () => {}} = {}) {
  const fetched = new Fetched(tell, counted)
  mark('worker runs')
  const heap = fetched.open(BUILD.frozen.file).then(unpack).then(readHeap)
  heap.then(
    () => mark('heap unpacked'),
    () => {},
  ) // a failure is waited for below
  fetched.compile(WASM)
  fetched.give(NO_STDLIB, () => new Response(EMPTY_ZIP))
  fetched.module.then(
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
      createPyodideModule: async (settings) => {
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

/** Start from the standard library and the wheels, all from our own files. */
export async function startPlain({tell = () => {}, counted = true} = {}) {
  const fetched = new Fetched(tell, counted)
  fetched.compile(WASM)
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

/** Pyodide's scripts, which are on their way like the files, though a browser counts no bytes of them. */
function runtime(fetched) {
  const scripts = Promise.all([
    import(address(BUILD.runtime + 'pyodide.mjs')),
    import(address(BUILD.runtime + 'pyodide.asm.mjs')),
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

/** Files on their way before Pyodide asks for them; while it starts, `fetch` hands them over. */
class Fetched {
  constructor(tell, counted) {
    this.tell = tell
    this.counted = counted
    this.waiting = new Map()
    this.loaded = 0
    this.next = 0 // time to tell of bytes again
    this.files = 0
    this.total = 0 // over the wire
    this.broken = new Promise((_, reject) => (this.fail = reject))
    this.broken.catch(() => {})
  }

  open(file) {
    this.files += 1
    this.total += BUILD.bytes[file][1]
    const answer = fetch(address(file)).then(
      (response) => this.checked(file, response),
      () => Promise.reject(new StartError('network', `${file} could not be fetched`)),
    )
    answer.catch(this.fail)
    this.give(file, () => answer)
    return answer
  }

  /** The same, and compile it while Pyodide's scripts are still on their way. */
  compile(file) {
    this.module = this.open(file).then((response) => WebAssembly.compileStreaming(response))
    this.module.catch((error) =>
      this.fail(error instanceof StartError ? error : new StartError('start', `Compiling failed: ${error}`)),
    )
    this.give(file, () => new Response())
  }

  give(file, get) {
    this.waiting.set(address(file), get)
  }

  tellBytes() {
    this.next = performance.now() + BETWEEN
    this.tell({stage: STAGES.fetch, loaded: Math.round(this.loaded), total: this.total})
  }

  arrived() {
    this.files -= 1
    if (!this.files) this.tell({stage: STAGES.python})
  }

  checked(file, response) {
    if (!response.ok) throw new StartError('network', `${file} could not be fetched (${response.status})`)
    const type = (response.headers.get('content-type') ?? '').split(';')[0].trim()
    if (file.endsWith('.wasm') && type !== 'application/wasm')
      throw new StartError('start', `${file} came as "${type}", and a browser takes it as application/wasm only`)
    if (!this.counted) {
      this.tell({stage: STAGES.python})
      return response
    }
    const [size, compressed] = BUILD.bytes[file]
    const sent = response.headers.has('content-encoding') ? compressed : size
    this.total += sent - compressed
    let bytes = 0
    const count = new TransformStream({
      transform: (chunk, out) => {
        bytes += chunk.byteLength
        this.loaded += (chunk.byteLength * sent) / size
        if (performance.now() >= this.next) this.tellBytes()
        out.enqueue(chunk)
      },
      flush: () => {
        this.tellBytes()
        this.arrived()
        if (bytes === size) return
        const short = new StartError('network', `${file} came with ${bytes} of ${size} bytes`)
        this.fail(short)
        throw short
      },
    })
    return new Response(response.body.pipeThrough(count), {headers: {'content-type': type}})
  }
}

/** Run a start with `fetch` answering from the files on their way, and with every silent failure made a loud one. */
async function guarded(fetched, work) {
  const own = {fetch: globalThis.fetch, instantiate: WebAssembly.instantiateStreaming}
  globalThis.fetch = (resource, options) => {
    const url = String(resource?.url ?? resource)
    const get = fetched.waiting.get(url)
    fetched.waiting.delete(url)
    return get ? Promise.resolve(get()) : own.fetch.call(globalThis, resource, options)
  }
  // Pyodide only warns when this fails, and then waits for ever.
  WebAssembly.instantiateStreaming = async (_, imports) => {
    const module = await fetched.module
    try {
      return {module, instance: await WebAssembly.instantiate(module, imports)}
    } catch (error) {
      fetched.fail(new StartError('start', `The planner's module did not start: ${error}`))
      throw error
    }
  }
  try {
    return await Promise.race([work(), fetched.broken])
  } finally {
    globalThis.fetch = own.fetch
    WebAssembly.instantiateStreaming = own.instantiate
  }
}

/**
 * Where Python keeps the function through which it calls C functions, in words. Each instance makes its own, where the browser can;
 * 0 stands for a detour through JavaScript, which is what is frozen.
 */
export function trampolinePlace({HEAP32, __PyRuntime, __PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET}) {
  return (__PyRuntime + HEAP32[__PyEM_EMSCRIPTEN_TRAMPOLINE_OFFSET / 4]) / 4
}

/** The bytes of a frozen heap; a server that unpacks gzip on its own does no harm. */
async function unpack(response) {
  const [head, body] = response.body.tee()
  const reader = head.getReader()
  const {value} = await reader.read()
  reader.cancel()
  const packed = value?.[0] === 0x1f && value[1] === 0x8b
  const plain = packed ? body.pipeThrough(new DecompressionStream('gzip')) : body
  return new Response(plain).arrayBuffer()
}

/** Read a frozen heap: sizes, Pyodide's header, the places of the runs, the runs. See py/build_page/frozen/freeze.py. */
function readHeap(buffer) {
  const [magic, length, count, headerBytes] = new Uint32Array(buffer, 0, 4)
  if (magic !== BUILD.frozen.magic) throw new StartError('start', 'The frozen heap is of another build')
  const header = new Uint8Array(buffer.slice(16, 16 + headerBytes))
  const places = new Uint32Array(buffer, 16 + headerBytes, count * 2)
  const write = (memory) => {
    let from = 16 + headerBytes + count * 8
    for (let i = 0; i < places.length; i += 2) {
      memory.set(new Uint8Array(buffer, from, places[i + 1]), places[i])
      from += places[i + 1]
    }
  }
  return {header, length, write}
}
