// One job stays one job: of the tabs that have it in hand one holds the pen, and the others follow it until one of them
// takes it over. A browser's locks say who holds it; where a browser has none, or the page came over plain http, the tabs
// ask each other.

const NAME = 'thickset.pen'
/** Whoever holds a pen answers sooner [ms]: a tab that is frozen does not, and loses it. */
const PATIENCE = 800

/** @typedef {{ask?: string, held?: string, since?: number, want?: string, given?: string, free?: string, from: string}} Told */

export class Pen {
  #onGive
  #onChange
  #me = Math.random().toString(36).slice(2)
  #locks = navigator.locks
  #channel = typeof BroadcastChannel === 'function' ? new BroadcastChannel(NAME) : null
  /** The job in hand; empty where it needs no pen. */
  #job = ''
  #holds = false
  /** Since when [ms]. */
  #since = 0
  #timer = 0
  /** Gives up the lock that is held, and stops waiting for one. */
  #release = () => {}
  #waiting = new AbortController()
  /** What goes on once the tab that had the pen has given it. */
  #given = () => {}
  /** Another tab works on the job in hand. */
  follows = false

  /**
   * `onGive()`: another tab takes the pen: what is not stored yet is stored now. `onChange(got)`: this tab follows from
   * now on, or has got the pen.
   * @param {{onGive: () => void, onChange: (got: boolean) => void}} handlers
   */
  constructor({onGive, onChange}) {
    this.#onGive = onGive
    this.#onChange = onChange
    this.#channel?.addEventListener('message', ({data}) => this.#hear(data))
    window.addEventListener('pagehide', () => this.#leave())
    window.addEventListener('pageshow', ({persisted}) => persisted && this.#begin())
  }

  /** This job is in hand now. @param {string} job */
  hold(job) {
    if (job === this.#job) return
    this.#leave()
    this.#job = job
    this.#begin()
  }

  /** This tab takes the pen over: the other one stores what it has first. */
  take() {
    if (!this.follows) return
    clearTimeout(this.#timer)
    const job = this.#job
    this.#given = () => {
      clearTimeout(this.#timer)
      this.#given = () => {}
      if (job !== this.#job || this.#holds) return
      if (this.#locks) this.#lock({steal: true})
      else this.#got()
    }
    this.#timer = setTimeout(() => this.#given(), PATIENCE)
    this.#tell({want: job})
  }

  // ------------------------------------------------------------ getting it

  #begin() {
    this.#set(false)
    if (!this.#job) return
    if (!this.#locks && !this.#channel) {
      this.#holds = true
      return
    }
    if (this.#locks) this.#lock({ifAvailable: true})
    else this.#wait()
  }

  #wait() {
    if (this.#locks) return this.#lock({})
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => this.#got(), PATIENCE / 2)
    this.#tell({ask: this.#job})
  }

  /** @param {LockOptions} options */
  #lock(options) {
    this.#waiting.abort()
    const waiting = new AbortController()
    this.#waiting = waiting
    const job = this.#job
    const held = (/** @type {Lock | null} */ lock) =>
      /** @type {Promise<void>} */ (
        new Promise((resolve) => {
          if (waiting.signal.aborted || job !== this.#job) return resolve()
          if (!lock) {
            this.#taken()
            return resolve()
          }
          this.#release = resolve
          this.#got()
        })
      )
    const asked = options.steal || options.ifAvailable ? options : {signal: waiting.signal}
    this.#locks.request(`${NAME}.${job}`, asked, held).catch(() => {
      // Given up by this tab, or stolen by another.
      if (this.#waiting === waiting && job === this.#job && this.#holds) this.#lost()
    })
  }

  /** Another tab has it, or this one before it was loaded again, which gives it back in a moment. */
  #taken() {
    this.#timer = setTimeout(() => !this.#holds && this.#set(true), PATIENCE / 2)
    this.#wait()
  }

  #got() {
    clearTimeout(this.#timer)
    this.#holds = true
    this.#since = Date.now()
    this.#set(false)
  }

  // ------------------------------------------------------------ losing it

  #lost() {
    if (!this.#holds) return
    this.#holds = false
    this.#onGive()
    this.#set(true)
    if (this.#locks) this.#wait()
  }

  #leave() {
    clearTimeout(this.#timer)
    this.#waiting.abort()
    this.#release()
    this.#release = () => {}
    if (this.#holds) this.#tell({free: this.#job})
    this.#holds = false
  }

  /** @param {boolean} follows */
  #set(follows) {
    if (follows === this.follows) return
    this.follows = follows
    this.#onChange(!follows)
  }

  // ------------------------------------------------------------ what the tabs tell each other

  /** @param {Omit<Told, 'from'>} told */
  #tell(told) {
    this.#channel?.postMessage({...told, from: this.#me})
  }

  #answer() {
    this.#tell({held: this.#job, since: this.#holds ? this.#since : Date.now()})
  }

  /** @param {Told} told */
  #hear({ask, held, since = 0, want, given, free, from}) {
    const job = this.#job
    if (!job) return
    if (want === job && this.#holds) {
      this.#onGive()
      this.#tell({given: job})
      if (!this.#locks) this.#lost()
    }
    if (given === job) this.#given()
    if (this.#locks) return
    // Of two that ask at once, one comes first by its name.
    if (ask === job && !this.follows && (this.#holds || this.#me < from)) this.#answer()
    if (held === job && this.#holds) {
      // It answered too late: whoever had the pen first keeps it.
      if (since < this.#since || (since === this.#since && from < this.#me)) this.#lost()
      else this.#answer()
    } else if (held === job) {
      clearTimeout(this.#timer)
      this.#set(true)
    }
    if (free === job && this.follows) this.#wait()
  }
}
