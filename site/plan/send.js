// Hands the plan over: the link is made beforehand, so that the tap itself may share or copy it.

import {$, $$, say} from '../base/dom.js'

const MAKING = 'The link is being made: tap again in a moment.'

/**
 * `onCode()` asks for the code; `onRun(bool)` says whether the run goes along. `offer(link, title)` brings the link of what is on the page now,
 * '' while there is none; `refuse(text)` says why there is none.
 */
export function createSend(root, {onCode, onRun}) {
  const said = $('[role="status"]', root)
  const field = $('.field', root)
  const box = $('input', field)
  const code = $('#send-code', root)
  const share = $('[data-send="share"]', root)
  const copy = $('[data-send="copy"]', root)
  const withRun = $('input[type="checkbox"]', root)
  let link = ''
  let title = ''
  let refused = ''
  share.hidden = typeof navigator.share !== 'function'
  copy.classList.toggle('strong', share.hidden)

  function ready() {
    if (!link) say(said, refused || MAKING)
    return link !== ''
  }

  function showLink(words) {
    box.value = link
    field.hidden = false
    box.focus()
    box.select()
    say(said, words)
  }

  // Nothing is awaited before the share sheet or the clipboard is called: a browser allows them within the tap only.
  share.addEventListener('click', () => {
    if (!ready()) return
    navigator.share({title, url: link}).then(
      () => say(said, ''),
      (error) => {
        if (error?.name === 'AbortError') say(said, '')
        else showLink('Sharing did not work here. Copy this link.')
      },
    )
  })
  copy.addEventListener('click', () => {
    if (!ready()) return
    const copied = () => say(said, 'The link is copied.')
    if (navigator.clipboard?.writeText) navigator.clipboard.writeText(link).then(copied, byHand)
    else byHand()

    function byHand() {
      showLink('Copy this link.')
      if (document.execCommand?.('copy')) copied()
    }
  })
  $('[data-send="code"]', root).addEventListener('click', () => {
    if (code.innerHTML) code.innerHTML = ''
    else {
      say(said, 'The code is being drawn …')
      onCode()
    }
  })
  withRun.addEventListener('change', () => onRun(withRun.checked))

  function forget() {
    link = ''
    refused = ''
    field.hidden = true
    code.innerHTML = ''
    say(said, '')
  }

  return {
    forget,
    /** `begun`: there is a run to send along. */
    show(begun) {
      $('.check', root).hidden = !begun
    },
    offer(made, of) {
      link = made
      title = of
      if (link && said.textContent === MAKING) say(said, 'The link is ready.')
    },
    refuse(text) {
      refused = text
    },
    /** The code is html that only the core made; `text` says why there is none. */
    showCode(html, text = '') {
      code.innerHTML = html
      say(said, text)
      $$('svg', code)[0]?.scrollIntoView({block: 'nearest'})
    },
  }
}
