// Which planer for this lot: the plan on each that is kept, where there is more than one.

import {$, around} from '../base/dom.js'

/** @import {Ask, JobDocument} from '../base/types.js' */
/** @typedef {{id: string, name: string, in_hand: boolean, job: JobDocument}} OnPlaner The lot with one of the planers in it. */

export class Which {
  #root
  #jobs
  #ask
  /** @type {OnPlaner[]} */
  #asked = []
  #shown = ''

  /**
   * `jobs()`: the lot on each planer, none where the choice is none; `onUse(id)`: it is taken.
   * @param {HTMLDetailsElement} root
   * @param {{ask: Ask, jobs: () => OnPlaner[], onUse: (id: string) => void}} handlers
   */
  constructor(root, {ask, jobs, onUse}) {
    this.#root = root
    this.#jobs = jobs
    this.#ask = ask
    root.addEventListener('toggle', () => this.show())
    root.addEventListener('click', ({target}) => {
      const id = around(target, '[data-use-planer]')?.dataset.usePlaner
      if (id) onUse(id)
    })
  }

  async show() {
    const jobs = this.#jobs()
    this.#root.hidden = jobs.length < 2
    const text = JSON.stringify(jobs)
    if (this.#root.hidden || !this.#root.open || text === this.#shown) return
    const said = await this.#ask({ask: 'which-planer', jobs}, 'which')
    if (!said?.ok) return
    this.#shown = text
    this.#asked = jobs
    $('[data-show-which]', this.#root).innerHTML = said.html.which
  }

  /** What to ask why of the plan on a planer; undefined for anything else. @param {string} what */
  question(what) {
    const [kind, n, path] = what.split(':')
    const one = kind === 'which' ? this.#asked[Number(n)] : undefined
    return one && {job: one.job, what: path}
  }
}
