// The files of a start: on their way at once, counted as they arrive, and every failure told.
import {BUILD} from './built.js'
import {STAGES} from './messages.js'

/** @import {FailureKind, Progress} from './messages.js' */

const here = new URL('../', import.meta.url) // the build puts our scripts one folder down
const BETWEEN = 100 // bytes are told ten times a second; each telling costs a turn of both threads [ms]

/** @param {string} file */
export const address = (file) => new URL(file, here).href

/** What stopped a start: `kind` is 'network' when trying the same again may help. */
export class StartError extends Error {
  /** @param {FailureKind} kind @param {string} text */
  constructor(kind, text) {
    super(text)
    this.kind = kind
  }
}

/**
 * What breaks while a file is read: the line, as far as a browser tells, or the file itself.
 * @param {string} file
 * @returns {(error: unknown) => never}
 */
export const brokeOff = (file) => (error) => {
  if (error instanceof StartError) throw error
  throw new StartError(error instanceof TypeError ? 'network' : 'start', `${file} could not be read: ${error}`)
}

/** Files on their way before Pyodide asks for them; while it starts, `fetch` hands them over. */
export class Fetched {
  /** Compiling what `compile` was given. @type {Promise<WebAssembly.Module> | undefined} */
  module
  /** Rejects everything that waits for a file. @type {(error: StartError) => void} */
  fail = () => {}
  /** What answers for each address, until it is asked for. @type {Map<string, () => Response | Promise<Response>>} */
  waiting = new Map()

  /** @param {(told: Progress) => void} tell @param {boolean} counted */
  constructor(tell, counted) {
    this.tell = tell
    this.counted = counted
    this.loaded = 0
    this.next = 0 // time to tell of bytes again
    this.files = 0
    this.total = 0 // over the wire
    /** @type {Promise<never>} */
    this.broken = new Promise((_, reject) => {
      this.fail = reject
    })
    this.broken.catch(() => {})
  }

  /** @param {string} file */
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

  /**
   * The same, and compile it while Pyodide's scripts are still on their way.
   * @param {string} file
   * @param {(response: Response) => Promise<WebAssembly.Module>} how
   */
  compile(file, how = (response) => WebAssembly.compileStreaming(response)) {
    const module = this.open(file).then(how).catch(brokeOff(file))
    module.catch(this.fail)
    this.give(file, () => new Response())
    this.module = module
    return module
  }

  /** @param {string} file @param {() => Response | Promise<Response>} get */
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

  /** @param {string} file @param {Response} response */
  checked(file, response) {
    if (!response.ok) throw new StartError('network', `${file} could not be fetched (${response.status})`)
    const type = (response.headers.get('content-type') ?? '').split(';')[0].trim()
    if (file.endsWith('.wasm') && type !== 'application/wasm')
      throw new StartError('start', `${file} came as "${type}", and a browser takes it as application/wasm only`)
    if (!this.counted) {
      this.tell({stage: STAGES.python})
      return response
    }
    return this.count(file, response, type)
  }

  /**
   * The same response, whose bytes are told as they pass.
   * @param {string} file
   * @param {Response} response
   * @param {string} type
   */
  count(file, response, type) {
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
    return new Response(response.body?.pipeThrough(count), {headers: {'content-type': type}})
  }
}
