// The jobs on this device: opened, copied, renamed, deleted; searched once they are many.

import {h, say} from '../base/dom.js'

const MANY = 8

/** The list asks for nothing but what it shows: jobs are {id, title, about, touched}. */
export function createJobs(root, {onOpen, onCopy, onRename, onDelete}) {
  const search = h('input', {
    id: 'job-search',
    type: 'search',
    autocomplete: 'off',
    'aria-label': 'Find a job',
    placeholder: 'Find a job',
  })
  const find = h('div', {class: 'field'}, search)
  const list = h('ol', {id: 'job-rows'})
  const none = h('p', {class: 'hint'})
  root.append(h('h2', {}, 'Jobs on this device'), find, list, none)
  search.addEventListener('input', () => draw())
  let jobs = []
  let current = ''
  let open = ''
  let naming = ''
  let drawn = ''

  function day(touched) {
    if (!touched) return ''
    return new Date(touched).toLocaleDateString(undefined, {day: 'numeric', month: 'short', year: 'numeric'})
  }

  function rename(job) {
    const field = h('input', {value: job.title, 'aria-label': 'New name', autocomplete: 'off'})
    const done = () => {
      if (naming !== job.id) return
      naming = ''
      open = ''
      onRename(job.id, field.value)
      draw(true)
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

  function more(job) {
    if (naming === job.id) return rename(job)
    const start = () => {
      naming = job.id
      draw(true)
      root.querySelector('.job-more input')?.select()
    }
    return h(
      'div',
      {class: 'job-more'},
      h('button', {type: 'button', onclick: start}, 'Rename'),
      h('button', {type: 'button', onclick: () => onCopy(job.id)}, 'Copy'),
      h('button', {type: 'button', onclick: () => onDelete(job.id)}, 'Delete'),
    )
  }

  function row(job) {
    const toggle = () => {
      open = open === job.id ? '' : job.id
      naming = ''
      draw(true)
    }
    return h(
      'li',
      {class: 'job', 'data-job': job.id},
      h(
        'button',
        {
          type: 'button',
          class: 'job-open',
          'aria-current': job.id === current ? 'true' : null,
          onclick: () => onOpen(job.id),
        },
        h('b', {}, job.title),
        h('small', {}, [job.about, day(job.touched)].filter(Boolean).join(' · ')),
      ),
      h(
        'button',
        {
          type: 'button',
          class: 'plain',
          'aria-expanded': String(open === job.id),
          'aria-label': `More for ${job.title}`,
          onclick: toggle,
        },
        '⋯',
      ),
      open === job.id && more(job),
    )
  }

  function draw(force = false) {
    const wanted = search.value.trim().toLowerCase()
    const found = jobs.filter((job) => `${job.title} ${job.about}`.toLowerCase().includes(wanted))
    const drawing = JSON.stringify([found, current, open, naming])
    find.hidden = jobs.length < MANY
    say(
      none,
      jobs.length && !found.length ? 'No job has that in its name.' : jobs.length ? '' : 'No job of your own yet.',
    )
    if (drawing === drawn && !force) return
    drawn = drawing
    list.replaceChildren(...found.map(row))
  }

  return {
    show(all, inHand) {
      jobs = all
      current = inHand
      draw()
    },
  }
}
