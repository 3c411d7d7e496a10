// Beside the plan, folded: time, two lots, lengths, stock, support, butting, after the run. Whoever wants a schedule only never meets it.

import {$, $$, h, say} from '../base/dom.js'

/** Fields whose label or choices want the whole width. */
const LONG = ['rates.wood', 'cutting.ends', 'planer.table']
const FIELDS = {
  time: [
    ['rates.people', 'People, money an hour'],
    ['rates.machine', 'Planer, money an hour'],
    ['rates.wood', 'Wood, money a board foot or m³'],
  ],
  leave: [
    ['cutting.kerf', 'Kerf of the saw'],
    ['cutting.trim', 'Squared off each end'],
    [
      'cutting.ends',
      'How boards are fed',
      {'': 'each alone', butted: 'butted end to end', guarded: 'between scrap pieces', alone: 'alone'},
    ],
  ],
  support: [['planer.table', 'Table, from roller to its end']],
}
const FORMS = {
  slab: [
    'board',
    [
      ['length', 'Length'],
      ['width', 'Width'],
      ...[
        ['end_1', 'End 1'],
        ['middle', 'Middle'],
        ['end_2', 'End 2'],
      ].flatMap(([key, where]) => [
        [`${key}_left`, `${where}, left`, 'same', 'Thickness'],
        [key, `${where}, center`, '', 'Thickness'],
        [`${key}_right`, `${where}, right`, 'same', 'Thickness'],
      ]),
      ['cup', 'Cup', '0'],
      ['bow', 'Bow', '0'],
      ['twist', 'Twist', '0'],
      ['part_thickness', 'Part, thickness'],
      ['part_length', 'Part, length', 'whole'],
      ['part_width', 'Part, width', 'whole'],
    ],
    [
      'Left and right: as you stand at end 1 and look along the board. Thickness in the center, and at the edges where it differs.',
      'Cup: straightedge across the upper face, the gap at its worst. With a minus where that face is hollow, plain where it is humped.',
      'Bow: the same along the board.',
      'Twist: winding sticks across both ends of the upper face. How much higher the right end of the far stick stands; with a minus where it is lower.',
    ],
  ],
  buy: [
    'need',
    [
      ['thickness', 'Finished thickness'],
      ['jointing', 'Off by jointing'],
      ['planing', 'Off by planing'],
      ['width', 'Width of a part', ''],
      ['length', 'Length of a part', ''],
      ['count', 'Parts', '1'],
      ['waste', 'Waste, per cent', '20'],
      ['rate', 'Price'],
    ],
    'Left empty: 3/32 in or 2.4 mm comes off by jointing, the same by planing. The price is for a board foot, in mm for a cubic meter.',
  ],
}
const PLACES = [
  ['time', 'Where the minutes go, and the cost'],
  ['split', 'Two lots or one'],
  ['leave', 'How long to leave them'],
  ['slab', 'Will this board make it?'],
  ['buy', 'What to buy'],
  ['support', 'Long boards: hold them up'],
  ['butting', 'Butting boards end to end'],
  ['after', 'After the run'],
]

function field(label, id, attributes, input) {
  return h(
    'div',
    {...attributes, class: `field ${attributes.class ?? ''}`},
    h('label', {for: id}, label),
    input,
    h('p', {class: 'understood'}),
    h('p', {class: 'problem'}),
  )
}

function jobField([key, label, choices]) {
  const id = `f-${key.replace('.', '-')}`
  const input = choices
    ? h(
        'select',
        {id},
        Object.entries(choices).map(([value, text]) => h('option', {value}, text)),
      )
    : h('input', {id, autocomplete: 'off', spellcheck: 'false', inputmode: key.startsWith('rates') ? 'decimal' : null})
  return field(label, id, {'data-field': key, 'data-at': key, class: LONG.includes(key) ? 'whole-row' : ''}, input)
}

const fields = (name) => h('div', {class: 'pair'}, FIELDS[name].map(jobField))

/**
 * `onParts(parts)`; `onAsk(what, request)` answers a form of its own, whose texts are kept: `forms()`, `onForm(name, texts)`.
 * `defects.root` stands with the lengths, `finals.root` with what comes after the run. */
export function createMore(root, {onParts, onAsk, defects, finals, forms, onForm}) {
  const slots = new Map()
  /** Each form's question whose answer is on the page. */
  const answered = new Map()
  const again = []
  for (const [name, title] of PLACES) {
    const slot = h('div', {'data-more': name})
    slots.set(name, slot)
    root.append(
      h(
        'details',
        {class: 'more', id: `more-${name}`},
        h('summary', {}, title),
        name === 'leave' && h('ol', {id: 'part-rows'}),
        name === 'leave' && h('button', {type: 'button', onclick: () => addPart()}, 'Add a part'),
        name === 'leave' && defects.root,
        name === 'leave' && fields(name),
        FORMS[name] && form(name),
        slot,
        name !== 'leave' && FIELDS[name] && fields(name),
        name === 'after' && finals.root,
      ),
    )
  }

  // ------------------------------------------------------------ parts

  const rows = $('#part-rows', root)
  const textOf = (row, key) => $(`[data-key="${key}"]`, row).value.trim()
  /** The rows that have something in them, each told where it stands in the document. */
  const partRows = () => {
    const kept = $$('li', rows).filter((row) => textOf(row, 'length') || textOf(row, 'width') || textOf(row, 'count'))
    for (const row of $$('li', rows))
      for (const place of $$('.field', row))
        place.dataset.at = kept.includes(row) ? `parts[${kept.indexOf(row)}].${place.dataset.part}` : ''
    return kept
  }
  const partsOf = () =>
    partRows().map((row, n) => ({
      name: textOf(row, 'name') || `Part ${n + 1}`,
      length: textOf(row, 'length'),
      ...(textOf(row, 'width') ? {width: textOf(row, 'width')} : {}),
      ...(textOf(row, 'count')
        ? {count: /^\d+$/.test(textOf(row, 'count')) ? Number(textOf(row, 'count')) : textOf(row, 'count')}
        : {}),
    }))

  function addPart(part = {}) {
    const n = rows.children.length
    const input = (key, label, placeholder) =>
      field(
        label,
        `part-${n}-${key}`,
        {'data-part': key, 'data-at': ''},
        h('input', {
          id: `part-${n}-${key}`,
          'data-key': key,
          autocomplete: 'off',
          spellcheck: 'false',
          placeholder,
          value: part[key] === undefined ? '' : String(part[key]),
          inputmode: key === 'count' ? 'numeric' : null,
          oninput: () => onParts(partsOf()),
        }),
      )
    const row = h(
      'li',
      {},
      h(
        'div',
        {class: 'pair'},
        input('name', 'Part', `Part ${n + 1}`),
        input('length', 'Length', ''),
        input('width', 'Width', 'the board’s'),
        input('count', 'How many', '1'),
      ),
      h(
        'button',
        {
          type: 'button',
          class: 'plain',
          onclick() {
            row.remove()
            onParts(partsOf())
          },
        },
        'Delete this part',
      ),
    )
    rows.append(row)
  }

  // ------------------------------------------------------------ forms of their own

  function form(name) {
    const [key, entries, hint] = FORMS[name]
    const input = ([part, label, placeholder]) =>
      field(
        label,
        `${name}-${part}`,
        {'data-form': `${key}.${part}`},
        h('input', {
          id: `${name}-${part}`,
          autocomplete: 'off',
          spellcheck: 'false',
          placeholder: placeholder ?? null,
          oninput: ask,
        }),
      )
    const rows = (some, title) =>
      title
        ? h(
            'div',
            {role: 'group', 'aria-label': title},
            h('h4', {}, title),
            h('div', {class: 'pair three'}, some.map(input)),
          )
        : h('div', {class: 'pair'}, some.map(input))
    const titles = entries.map((entry) => entry[3])
    const [from, to] = [titles.findIndex(Boolean), titles.findLastIndex(Boolean) + 1]
    const grid = to
      ? [rows(entries.slice(0, from)), rows(entries.slice(from, to), titles[from]), rows(entries.slice(to))]
      : rows(entries)
    const asked = h(
      'div',
      {'data-form': name},
      [hint].flat().map((line) => h('p', {class: 'hint'}, line)),
      grid,
    )
    async function ask() {
      const given = Object.fromEntries(
        entries.map(([part]) => [part, $(`#${name}-${part}`, asked).value.trim()]).filter(([, text]) => text),
      )
      if (JSON.stringify(given) !== JSON.stringify(forms()[name] ?? {})) onForm(name, given)
      if (!Object.keys(given).length) return paint(name, '')
      const said = await onAsk(name, {ask: name, [key]: given})
      if (!said) return
      answered.set(name, {form: name, [key]: given})
      const problems = new Map((said.problems ?? []).map(({at, text}) => [at, text]))
      for (const place of $$('.field', asked)) {
        const text = problems.get(place.dataset.form) ?? ''
        const empty = $('input', place).value.trim() === ''
        say($('.problem', place), empty ? '' : text)
      }
      const missing = $$('.field', asked).filter(
        (place) => problems.has(place.dataset.form) && $('input', place).value.trim() === '',
      )
      const words = missing.map((place) => $('label', place).textContent)
      paint(name, said.html?.[name] ?? '', words.length ? `Still to enter: ${words.join(', ')}` : '')
    }
    again.push(() => {
      for (const [part] of entries) $(`#${name}-${part}`, asked).value = forms()[name]?.[part] ?? ''
      ask()
    })
    return asked
  }

  function paint(name, html, words = '') {
    const slot = slots.get(name)
    if (slot.dataset.painted === html + words) return
    slot.dataset.painted = html + words
    slot.innerHTML = html
    if (words) slot.append(h('p', {class: 'hint'}, words))
  }

  return {
    /** The core's answer, or why there is none. */
    paint(html, words = '') {
      for (const name of slots.keys()) if (!FORMS[name]) paint(name, html[name] ?? '', html[name] ? '' : words)
    },
    /** What to ask why of the form of that name; undefined where there is none. */
    question: (name) => answered.get(name),
    /** The forms of their own are asked once more, as they were kept. */
    again: () => again.forEach((one) => one()),
    /** The draft's parts. */
    show(parts) {
      if (
        JSON.stringify(partsOf()) !==
        JSON.stringify(parts.map((part, n) => ({...part, name: part.name || `Part ${n + 1}`})))
      ) {
        rows.replaceChildren()
        parts.forEach(addPart)
      }
      if (!rows.children.length) addPart()
    },
  }
}
