// The screen stays awake at the machine where the browser can; where it cannot, nothing is said.

export class Awake {
  /** @type {WakeLockSentinel | null} */
  #lock = null
  #wanted = false

  constructor() {
    document.addEventListener('visibilitychange', () => this.#hold())
  }

  get wanted() {
    return this.#wanted
  }

  /** @param {boolean} wanted */
  set wanted(wanted) {
    this.#wanted = wanted
    if (wanted) this.#hold()
    else this.#lock?.release()
  }

  async #hold() {
    if (!this.#wanted || this.#lock || document.visibilityState !== 'visible') return
    try {
      this.#lock = await navigator.wakeLock.request('screen')
      this.#lock.addEventListener('release', () => {
        this.#lock = null
      })
      if (!this.#wanted) this.#lock.release()
    } catch {
      this.#lock = null
    }
  }
}
