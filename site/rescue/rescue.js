// The rescue page: what is stored, save it all, start clean. It imports nothing, and reads no entry, so that no entry can break it.
'use strict'

const OURS = 'thickset.'
const KINDS = {
  'thickset.job.': 'a job',
  'thickset.planer.': 'a planer',
  'thickset.aside.': 'damaged, set aside',
  'thickset.now': 'where you were',
  'thickset.answer': 'the last plan shown',
  'thickset.forms': 'what stands in the forms',
}

const byId = (id) => document.getElementById(id)
const say = (text) => {
  byId('said').textContent = text
}

/** [key, text] of every entry of ours, as found. */
function stored() {
  const found = []
  for (let n = 0; n < localStorage.length; n += 1) {
    const key = localStorage.key(n)
    if (key.startsWith(OURS)) found.push([key, localStorage.getItem(key)])
  }
  return found.sort(([a], [b]) => (a < b ? -1 : 1))
}

function show() {
  let entries = []
  try {
    entries = stored()
    say(entries.length ? `${entries.length} entries are stored here.` : 'Nothing is stored here.')
  } catch (error) {
    say(
      `This browser lets no page read what is stored here: ${error.message}. Allow it in its settings, and load this page again.`,
    )
  }
  byId('entries').replaceChildren(
    ...entries.map(([key, text]) => {
      const row = document.createElement('tr')
      const kind = Object.keys(KINDS).find((start) => key.startsWith(start))
      for (const said of [key.slice(0, 80), KINDS[kind] ?? '', `${text.length.toLocaleString('en')} signs`])
        row.append(Object.assign(document.createElement('td'), {textContent: said}))
      return row
    }),
  )
  for (const id of ['save', 'clear']) byId(id).disabled = entries.length === 0
  byId('sure').hidden = true
}

/** The texts go out as damaged entries do: the planner sets them aside again where it cannot read them. */
function save() {
  const entries = stored().map(([key, text]) => ({key, text}))
  const whole = `${JSON.stringify({thickset_stored: 1, entries})}\n`
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([whole], {type: 'application/json'}))
  link.download = 'thickset-stored.json'
  document.body.append(link)
  link.click()
  link.remove()
  say('Saved as thickset-stored.json.')
}

function clear() {
  for (const [key] of stored()) localStorage.removeItem(key)
  show()
  say('All is deleted. The planner starts as on the first day.')
}

byId('save').addEventListener('click', save)
byId('clear').addEventListener('click', () => {
  byId('sure').hidden = false
  byId('no').focus()
})
byId('no').addEventListener('click', show)
byId('yes').addEventListener('click', clear)
show()
