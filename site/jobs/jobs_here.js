// Jobs and files: wires the list of jobs and the file buttons to the state and the store.

import {$, say} from '../base/dom.js'
import {asText, isObject, isOfLot, newDraft, newId, recordOf, runOf, tally, withRecord} from '../base/job.js'
import {fromDocument, toDocument} from '../base/document.js'
import {aboutMm} from '../base/lengths.js'
import {createAside} from '../kept/aside.js'
import {createFiles} from './files.js'
import {createJobs} from './jobs.js'

export function createKeeping(root, state, store, {offerUndo, onNew}) {
  const said = $('#file-said', root)
  const files = createFiles($('#open-job', root), {
    onOpen(job, name) {
      if (job.thickset_jobs === 1 && Array.isArray(job.jobs)) bringBack(job, name)
      else if (job.thickset_jobs > 1)
        say(
          said,
          `${name} was saved by a newer version of this page. Load the page anew, with a network, then open the file again.`,
        )
      else if ('thickset_jobs' in job)
        say(said, `${name} holds no list of jobs that can be read. Save all to one file again, where they are.`)
      else if ('thickset_aside' in job)
        say(said, `${name} holds damaged entries as they were found: no job can be opened from it.`)
      else {
        state.open({...fromDocument(job), touched: Date.now()}, {view: 'plan'})
        say(said, `${name} is open.`)
      }
    },
    onRefuse: (text) => say(said, text),
  })
  const list = createJobs($('#job-list', root), {
    onOpen: (id) => (id === 'example' ? state.openExample(state.draft.units, {view: 'plan'}) : openJob(id)),
    onCopy(id) {
      const job = store.job(id)
      const copy = {...job, id: newId(), title: `${titleOf(job)}, copy`, touched: Date.now()}
      store.keepJob(copy)
      show()
      say(said, `${copy.title} is there.`)
    },
    onRename(id, title) {
      if (id === state.draft.id) state.change({...state.draft, title})
      else {
        store.keepJob({...store.job(id), title})
        show()
      }
    },
    onDelete(id) {
      const before = state.snapshot()
      const job = store.job(id)
      store.dropJob(id)
      if (id === state.draft.id) {
        const next = store.jobs()[0]
        if (next) state.open(next)
        else state.openExample(state.draft.units)
      } else show()
      offerUndo(`${titleOf(job)} is deleted.`, () => {
        store.keepJob(job)
        if (id === before.draft.id) state.restore(before)
        else show()
      })
    },
  })

  const aside = createAside($('#aside', root), {
    onSave: () => say(said, `Saved as ${files.save({thickset_aside: 1, entries: store.aside()}, 'damaged entries')}.`),
    onDrop() {
      const gone = store.aside()
      gone.forEach(({id}) => store.dropAside(id))
      show()
      offerUndo('The damaged entries are thrown away.', () => {
        gone.forEach(store.keepAside)
        show()
      })
    },
  })

  const titleOf = (job) => job.title.trim() || 'Unnamed lot'

  function openJob(id) {
    const job = store.job(id)
    if (job) state.open(job, {view: 'plan'})
  }

  function aboutOf(job) {
    const {total} = tally(job)
    const boards = total === 1 ? '1 board' : total > 1 ? `${total} boards` : ''
    const target = job.settings['target.thickness']
    const size = [boards, target && `to ${target}${/[a-z″"]/i.test(target) ? '' : ` ${job.units}`}`]
      .filter(Boolean)
      .join(' ')
    return [size, farOf(job)].filter(Boolean).join(', ')
  }

  /** How far the run of a job is, by the settings that boards were fed at. */
  function farOf(job) {
    if (!runOf(job).length) return ''
    const settings = [
      ...new Set(
        runOf(job)
          .filter((event) => event?.did === 'feed')
          .map(({setting}) => asText(setting)),
      ),
    ]
    const off = aboutMm(settings.at(-1) ?? '', job.units) - aboutMm(job.settings['target.thickness'] ?? '', job.units)
    const many = settings.length === 1 ? '1 pass' : `${settings.length} passes`
    return settings.length ? `${many} fed${Math.abs(off) < 0.01 ? ', the last at the target' : ''}` : 'run begun'
  }

  /** Jobs, planers and damaged entries from a file of all: what is here already, to the letter, stays; everything else is added. */
  function bringBack({jobs, ...file}, name) {
    const listed = (list) => (Array.isArray(list) ? list.filter(isObject) : [])
    const planers = listed(file.planers)
    const texts = listed(file.aside).filter(({text}) => typeof text === 'string')
    const here = new Set(store.jobs().map((job) => JSON.stringify(toDocument(job).job)))
    let added = 0
    for (const job of jobs) {
      const document = isObject(job) ? (job.document ?? job) : null
      if (!isObject(document)) continue
      const draft = {...fromDocument(document), touched: Number(job.touched) || Date.now()}
      const text = JSON.stringify(toDocument(draft).job)
      if (here.has(text)) continue
      here.add(text)
      store.keepJob(draft)
      added += 1
    }
    const found = bringPlaners(planers)
    const put = texts.filter(({key, text}) => store.addAside({key: String(key), text})).length
    show()
    const more = [
      [planers, found, 'planers were new'],
      [texts, put, 'entries set aside were new'],
    ]
      .filter(([all]) => all.length)
      .map(([all, count, words]) => `; ${count} of ${all.length} ${words}`)
    say(said, `${name}: ${added} of ${jobs.length} jobs were new and are in the list${more.join('')}.`)
  }

  function bringPlaners(planers) {
    const text = ({name, units, settings, record = {}}) =>
      JSON.stringify([name, units, Object.entries(settings).sort(), Object.entries(record).sort()])
    let added = 0
    for (const given of planers) {
      const planer = store.asPlaner(newId(), given)
      const here = store.planers()
      if (!(Object.keys(planer.settings).length || planer.record) || here.some((one) => text(one) === text(planer)))
        continue
      const taken = new Set(here.map((one) => one.name))
      const {name} = planer
      for (let n = 2; taken.has(planer.name); n += 1) planer.name = `${name} ${n}`
      store.keepPlaner(planer)
      added += 1
    }
    return added
  }

  /** Some browsers promise to keep what is here, some ask the person, some do not promise. */
  async function tellWhetherKept() {
    say(
      $('#kept', root),
      (await store.keptForGood()) ? 'This browser has promised to keep what is here until you delete it.' : '',
    )
  }

  function show() {
    const jobs = store.jobs()
    const rows = jobs.map((job) => ({id: job.id, title: titleOf(job), about: aboutOf(job), touched: job.touched}))
    const planers = store.planers() // looked at before what is set aside is counted, as that may set more aside
    list.show(rows, state.draft.id)
    aside.show(store.aside().length)
    $('[data-do="save-all"]', root).hidden = rows.length + planers.length < 2
    tellWhetherKept()
  }

  return {
    show,
    /** `record`: what was learned of the planer, which goes along; `taught`: settings that it changes. */
    newLot(
      record = recordOf(state.draft),
      taught = {},
      {words = 'A new lot. The one before is kept.', onBack = () => {}} = {},
    ) {
      const before = state.snapshot()
      const kept = Object.entries(state.draft.settings).filter(([path]) => !isOfLot(path))
      const settings = before.draft.example ? {} : {...Object.fromEntries(kept), ...taught}
      const draft = withRecord(
        {...newDraft(state.draft.units), settings, touched: Date.now()},
        before.draft.example ? null : record,
      )
      state.open(draft, {view: 'lot', way: 'pile'})
      if (!before.draft.example)
        offerUndo(words, () => {
          state.restore(before)
          onBack()
        })
      onNew()
    },
    save() {
      say(said, `Saved as ${files.save(toDocument(state.draft).job, state.draft.title)}.`)
      store.inFile([state.draft.id])
    },
    saveAll() {
      const jobs = store.jobs()
      const all = jobs.map((job) => ({touched: job.touched, document: toDocument(job).job}))
      const planers = store.planers().map(({id, ...rest}) => rest)
      const aside = [...store.aside().map(({key, text}) => ({key, text})), ...store.newer()]
      say(said, `Saved as ${files.save({thickset_jobs: 1, jobs: all, planers, aside}, 'all jobs', true)}.`)
      store.inFile(
        jobs.map(({id}) => id),
        store.planers().map(({id}) => id),
      )
    },
  }
}
