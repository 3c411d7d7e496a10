// The jobs on this device: opened, copied, renamed, deleted; searched once they are many.

import {h, say, seek} from '../base/dom.js'

/**
 * A job as the list shows it; `alike`: others have the same title.
 * @typedef {{id: string, title: string, about: string, touched: number, alike: boolean}} Row
 */
/**
 * @typedef {object} Handlers
 * @property {(id: string) => void} onOpen
 * @property {(id: string) => void} onCopy
 * @property {(id: string, title: string) => void} onRename
 * @property {(id: string) => void} onDelete
 */

const MANY = 8

/** The day, and of one like others the time. @param {Row} job */
function whenOf({touched, alike}) {
  if (!touched) return ''
  const time = alike ? /** @type {const} */ ({hour: 'numeric', minute: '2-digit', second: '2-digit'}) : {}
  return new Date(touched).toLocaleString(undefined, {day: 'numeric', month: 'short', year: 'numeric', ...time})
}

export class JobList {
  #root
  #handlers
  #search = h('input', {
    id: 'job-search',
    type: 'search',
    autocomplete: 'off',
    'aria-label': 'Find a job',
    placeholder: 'Find a job',
    oninput: () => this.#draw(),
  })
  #find = h('div', {class: 'field'}, this.#search)
  #list = h('ol', {id: 'job-rows'})
  #none = h('p', {class: 'hint'})
  /** @type {Row[]} */
  #jobs = []
  /** The job in hand, the one whose more is unfolded, and the one that is being named. */
  #current = ''
  #open = ''
  #naming = ''
  #drawn = ''

  /** The list asks for nothing but what it shows. @param {HTMLElement} root @param {Handlers} handlers */
  constructor(root, handlers) {
    this.#root = root
    this.#handlers = handlers
    root.append(h('h2', {}, 'Jobs on this device'), this.#find, this.#list, this.#none)
  }

  /** @param {Row[]} jobs @param {string} inHand */
  show(jobs, inHand) {
    this.#jobs = jobs
    this.#current = inHand
    this.#draw()
  }

  #draw(force = false) {
    const jobs = this.#jobs
    const wanted = this.#search.value.trim().toLowerCase()
    const found = jobs.filter((job) => `${job.title} ${job.about}`.toLowerCase().includes(wanted))
    const drawing = JSON.stringify([found, this.#current, this.#open, this.#naming])
    const nothing = jobs.length ? 'No job has that in its name.' : 'No job of your own yet.'
    this.#find.hidden = jobs.length < MANY
    say(this.#none, found.length ? '' : nothing)
    if (drawing === this.#drawn && !force) return
    this.#drawn = drawing
    this.#list.replaceChildren(...found.map((job) => this.#row(job)))
  }

  /** @param {Row} job */
  #row(job) {
    const unfolded = this.#open === job.id
    const toggle = () => {
      this.#open = unfolded ? '' : job.id
      this.#naming = ''
      this.#draw(true)
    }
    return h(
      'li',
      {class: 'job', 'data-job': job.id},
      h(
        'button',
        {
          type: 'button',
          class: 'job-open',
          'aria-current': job.id === this.#current ? 'true' : null,
          onclick: () => this.#handlers.onOpen(job.id),
        },
        h('b', {}, job.title),
        h('small', {}, [job.about, whenOf(job)].filter(Boolean).join(' · ')),
      ),
      h(
        'button',
        {
          type: 'button',
          class: 'plain',
          'aria-expanded': String(unfolded),
          'aria-label': `More for ${job.title}`,
          onclick: toggle,
        },
        '⋯',
      ),
      unfolded && (this.#naming === job.id ? this.#rename(job) : this.#more(job)),
    )
  }

  /** @param {Row} job */
  #more(job) {
    const {onCopy, onDelete} = this.#handlers
    const start = () => {
      this.#naming = job.id
      this.#draw(true)
      seek('.job-more input', this.#root, HTMLInputElement)?.select()
    }
    return h(
      'div',
      {class: 'job-more'},
      h('button', {type: 'button', onclick: start}, 'Rename'),
      h('button', {type: 'button', onclick: () => onCopy(job.id)}, 'Copy'),
      h('button', {type: 'button', onclick: () => onDelete(job.id)}, 'Delete'),
    )
  }

  /** @param {Row} job */
  #rename(job) {
    const field = h('input', {value: job.title, 'aria-label': 'New name', autocomplete: 'off'})
    const done = () => {
      if (this.#naming !== job.id) return
      this.#naming = ''
      this.#open = ''
      this.#handlers.onRename(job.id, field.value)
      this.#draw(true)
    }
    field.addEventListener('keydown', (event) => {
      if (event.key === 'Enter') done()
    })
    return h(
      'div',
      {class: 'job-more field'},
      field,
      h('button', {type: 'button', class: 'strong', onclick: done}, 'Keep this name'),
    )
  }
}
