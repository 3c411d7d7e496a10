// Jobs and files: wires the list of jobs and the file buttons to the state and the store.

import {fromDocument, toDocument} from '../base/document.js'
import {$, say} from '../base/dom.js'
import {isOfLot, newDraft, newId, withRecord} from '../base/job.js'
import {isSameLot} from '../base/taking_back.js'
import {createAside} from '../kept/aside.js'
import {aboutOf, titleOf} from './about.js'
import {bringBack, putBack} from './bring_back.js'
import {createFiles} from './files.js'
import {JobList} from './jobs.js'

/** @import {Draft, JobDocument, OfferUndo, PlanerRecord, Settings, State, Store} from '../base/types.js' */

export class Keeping {
  #root
  #state
  #store
  #offerUndo
  #onNew
  #said
  #files
  #list
  #aside

  /**
   * `onNew()`: a new lot is in hand.
   * @param {HTMLElement} root
   * @param {State} state
   * @param {Store} store
   * @param {{offerUndo: OfferUndo, onNew: () => void}} handlers
   */
  constructor(root, state, store, {offerUndo, onNew}) {
    this.#root = root
    this.#state = state
    this.#store = store
    this.#offerUndo = offerUndo
    this.#onNew = onNew
    this.#said = $('#file-said', root)
    this.#files = createFiles($('#open-job', root, HTMLInputElement), {
      onOpen: (job, name) => this.#open(job, name),
      onRefuse: (text) => this.#say(text),
    })
    this.#list = new JobList($('#job-list', root), {
      onOpen: (id) => this.#openJob(id),
      onCopy: (id) => this.#copy(id),
      onRename: (id, title) => this.#rename(id, title),
      onDelete: (id) => this.#delete(id),
    })
    this.#aside = createAside($('#aside', root), {
      onSave: () =>
        this.#say(`Saved as ${this.#files.save({thickset_aside: 1, entries: store.aside()}, 'damaged entries')}.`),
      onDrop: () => this.#dropAside(),
    })
  }

  show() {
    const jobs = this.#store.jobs()
    const titles = jobs.map(titleOf)
    const isAlike = (/** @type {string} */ title) => titles.filter((one) => one === title).length > 1
    const rows = jobs.map((job, n) => {
      const alike = isAlike(titles[n])
      return {id: job.id, title: titles[n], about: aboutOf(job, alike), touched: job.touched, alike}
    })
    const planers = this.#store.planers() // looked at before what is set aside is counted, as that may set more aside
    this.#list.show(rows, this.#state.draft.id)
    this.#aside.show(this.#store.aside().length)
    $('[data-do="save-all"]', this.#root).hidden = rows.length + planers.length < 2
    this.#tellWhetherKept()
  }

  /**
   * `record`: what was learned of the planer, which goes along; `taught`: settings that it changes.
   * @param {PlanerRecord | null} record
   * @param {Settings} taught
   * @param {{words?: string, still?: () => boolean, onBack?: () => void}} [told]
   */
  newLot(record, taught, told = {}) {
    const {words = 'A new lot. The one before is kept.', still = () => true, onBack = () => {}} = told
    const state = this.#state
    const before = state.snapshot()
    const kept = Object.entries(state.draft.settings).filter(([path]) => !isOfLot(path))
    const settings = before.draft.example ? {} : {...Object.fromEntries(kept), ...taught}
    const draft = withRecord(
      {...newDraft(state.draft.units), settings, touched: Date.now()},
      before.draft.example ? null : record,
    )
    state.open(draft, {view: 'lot', way: 'pile'})
    const to = state.backTo(before)
    if (!before.draft.example)
      this.#offerUndo(words, {
        still: () => to.still() && still(),
        back() {
          to.back()
          onBack()
        },
      })
    this.#onNew()
  }

  save() {
    const {draft} = this.#state
    this.#say(`Saved as ${this.#files.save(toDocument(draft).job, draft.title)}.`)
    this.#store.inFile([draft.id])
  }

  saveAll() {
    const store = this.#store
    const jobs = store.jobs()
    const all = jobs.map((job) => ({touched: job.touched, document: toDocument(job).job}))
    const planers = store.planers().map(({id, ...rest}) => {
      const book = store.book(id)
      return book.length ? {...rest, book} : rest
    })
    const aside = [...store.aside().map(({key, text}) => ({key, text})), ...store.newer()]
    this.#say(`Saved as ${this.#files.save({thickset_jobs: 1, jobs: all, planers, aside}, 'all jobs', true)}.`)
    store.inFile(
      jobs.map(({id}) => id),
      store.planers().map(({id}) => id),
    )
  }

  /** @param {string} text */
  #say(text) {
    say(this.#said, text)
  }

  /** A document from a file. @param {JobDocument} job @param {string} name */
  #open(job, name) {
    const {jobs} = job
    if (job.thickset_jobs === 1 && Array.isArray(jobs)) {
      const told = bringBack(this.#store, job, jobs, name)
      this.show()
      this.#say(told)
    } else if (Number(job.thickset_jobs) > 1)
      this.#say(
        `${name} was saved by a newer version of this page. Load the page anew, with a network, then open the file again.`,
      )
    else if ('thickset_jobs' in job)
      this.#say(`${name} holds no list of jobs that can be read. Save all to one file again, where they are.`)
    else if (job.thickset_stored === 1 && Array.isArray(job.entries)) {
      const told = putBack(this.#store, job.entries, name)
      this.show()
      this.#say(told)
    } else if ('thickset_aside' in job)
      this.#say(`${name} holds damaged entries as they were found: no job can be opened from it.`)
    else {
      this.#state.open({...fromDocument(job), touched: Date.now()}, {view: 'plan'})
      this.#say(`${name} is open.`)
    }
  }

  /** @param {string} id */
  #openJob(id) {
    if (id === 'example') return this.#state.openExample(this.#state.draft.units, {view: 'plan'})
    const job = this.#store.job(id)
    if (job) this.#state.open(job, {view: 'plan'})
  }

  /** @param {string} id */
  #copy(id) {
    const job = this.#store.job(id)
    if (!job) return
    const copy = {...job, id: newId(), here: false, title: `${titleOf(job)}, copy`, touched: Date.now()}
    this.#store.keepJob(copy)
    this.show()
    this.#say(`${copy.title} is there.`)
  }

  /** @param {string} id @param {string} title */
  #rename(id, title) {
    const job = this.#store.job(id)
    if (id === this.#state.draft.id) this.#state.change({...this.#state.draft, title})
    else if (job) {
      this.#store.keepJob({...job, title})
      this.show()
    }
  }

  /** @param {string} id */
  #delete(id) {
    const [state, store] = [this.#state, this.#store]
    const before = state.snapshot()
    const job = store.job(id)
    if (!job) return
    store.dropJob(id)
    if (id === state.draft.id) {
      const next = store.jobs()[0]
      if (next) state.open(next)
      else state.openExample(state.draft.units)
    } else this.show()
    const {draft} = state
    this.#offerUndo(`${titleOf(job)} is deleted.`, {
      still: () => store.job(id) === null,
      back: () => {
        store.keepJob(job)
        // Whoever has gone on with another job meanwhile stays there.
        const stayed = state.draft.id === draft.id && isSameLot(state.draft, draft)
        if (id === before.draft.id && stayed) state.open(job, {view: state.view, way: before.way})
        else this.show()
      },
    })
  }

  #dropAside() {
    const gone = this.#store.aside()
    for (const {id} of gone) this.#store.dropAside(id)
    this.show()
    this.#offerUndo('The damaged entries are thrown away.', {
      still: () => true,
      back: () => {
        for (const entry of gone) this.#store.addAside(entry)
        this.show()
      },
    })
  }

  /** Some browsers promise to keep what is here, some ask the person, some do not promise. */
  async #tellWhetherKept() {
    const kept = await this.#store.keptForGood()
    say($('#kept', this.#root), kept ? 'This browser has promised to keep what is here until you delete it.' : '')
  }
}
