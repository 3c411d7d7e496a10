// A scrap measured: what the scale was set to and what came out, for the planer's record.

import {h, say} from '../base/dom.js'

const WAIT = 300
const FIELDS = {scale: 'Scale set to', measured: 'Scrap measured'}

/** `onRead(scrap)` wants {scale, measured} understood; `onTake(record)` puts a record into the planer; `onForget()` takes it out. */
export function createScrap(root, {onRead, onTake, onForget}) {
  const fields = Object.entries(FIELDS).map(([key, label]) => {
    const input = h('input', {id: `scrap-${key}`, autocomplete: 'off', spellcheck: 'false', enterkeyhint: 'next'})
    const problem = h('p', {class: 'problem'})
    return {key, input, problem, box: h('div', {class: 'field'}, h('label', {for: input.id}, label), input, problem)}
  })
  const found = h('div', {role: 'status'})
  const take = h(
    'button',
    {type: 'button', class: 'strong', hidden: true, onclick: () => taken()},
    'Keep this with the planer',
  )
  const far = h('p', {class: 'hint'})
  const forget = h('button', {type: 'button', onclick: onForget}, 'Forget what was learned')
  root.append(
    h(
      'p',
      {class: 'hint'},
      'Plane a scrap on both sides, the last pass at a mark of the scale, and measure it with the caliper. Two or three scraps at other marks are better than one.',
    ),
    h(
      'div',
      {class: 'pair'},
      fields.map(({box}) => box),
    ),
    found,
    h('div', {class: 'actions'}, take, forget),
    far,
  )
  let record = null
  let leaving = false
  let timer = 0

  const entered = () => Object.fromEntries(fields.map(({key, input}) => [key, input.value]))

  root.addEventListener('input', () => {
    record = null
    leaving = false
    take.hidden = true
    found.replaceChildren()
    for (const {problem} of fields) say(problem, '')
    clearTimeout(timer)
    if (fields.every(({input}) => input.value.trim())) timer = setTimeout(() => onRead(entered()), WAIT)
  })

  function taken() {
    if (!record) return
    onTake(record)
    for (const {input} of fields) input.value = ''
    root.dispatchEvent(new Event('input'))
  }

  return {
    /** The person goes on: a scrap that was entered goes along, at once or as soon as it is understood. */
    leave() {
      leaving = !record
      taken()
    },
    /** The core's answer about `scrap`; its html only the core made. */
    tell(scrap, answer) {
      if (JSON.stringify(scrap) !== JSON.stringify(entered())) return
      const problems = answer.problems ?? []
      for (const {key, problem} of fields)
        say(
          problem,
          problems
            .filter(({at}) => at === `scrap.${key}`)
            .map(({text}) => text)
            .join(' '),
        )
      const elsewhere = problems.filter(({at}) => !at.startsWith('scrap.')).map(({text}) => text)
      record = answer.ok ? answer.record : null
      take.hidden = !record
      if (answer.ok) found.innerHTML = answer.html.scrap
      else say(found, elsewhere.join(' '))
      if (leaving) taken()
    },
    /** What is known of the planer by now; nothing without a record. */
    show(record) {
      const count = record ? (record.runs ?? 1) : 0
      forget.hidden = !record
      say(
        far,
        count
          ? `What is known of the scale rests on ${count === 1 ? '1 scrap or run' : `${count} scraps and runs`}.`
          : '',
      )
    },
  }
}
