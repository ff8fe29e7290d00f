#!/bin/sh
# The sheet in a real browser: sheet_in_browser.sh PROGRAM FOLDER SCENARIO. Skipped (77) where there is no Chromium.
# It must print no console message, fit a phone of 390 px and A4, and make a page of paper.
set -eu
program=$1 folder=$2 scenario=$3
browser=$(command -v chromium || true)
[ -n "$browser" ] || { echo "no chromium here"; exit 77; }
rm -rf "$folder" && mkdir -p "$folder" && cd "$folder"

look() {  # no way out to any host
  timeout 120 "$browser" --headless --no-sandbox --hide-scrollbars --disable-gpu --user-data-dir="$folder/profile" --allow-file-access-from-files \
    --host-resolver-rules='MAP * ~NOTFOUND' --enable-logging=stderr --v=0 "$@" 2>>console.log
}

cat >frame.html <<'PAGE'
<!DOCTYPE html><meta charset="utf-8"><iframe id="phone" src="sheet.html" style="width:390px;height:800px;border:0"></iframe>
<pre id="said"></pre><script>
phone.onload = () => { const page = phone.contentDocument;
  const cards = [...page.querySelectorAll('.card')], folded = cards.filter(c => c.getBoundingClientRect().height < 80).length;
  page.querySelectorAll('.fold').forEach(fold => fold.checked = true);
  const open = cards.filter(c => c.getBoundingClientRect().height > 200).length;
  const wide = [...page.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > 391 && !e.closest('thead'));
  said.textContent = 'scroll width ' + page.documentElement.scrollWidth + ' of ' + page.documentElement.clientWidth + ', sticking out ' + wide.length
    + ', cards that do not fold ' + (cards.length - folded) + ', nor unfold ' + (cards.length - open) + (cards.length > 3 ? '' : ', no cards') + ', fetched ' + phone.contentWindow.performance.getEntriesByType('resource').length; };
</script>
PAGE

for options in "" "--pocket"; do
  "$program" sheet "$scenario" --days 4 --quiet -o sheet.html $options
  look --virtual-time-budget=3000 --dump-dom "file://$folder/frame.html" >frame.dom
  said=$(sed -n 's/.*<pre id="said">\([^<]*\)<.*/\1/p' frame.dom)
  echo "phone $options: $said"
  case "$said" in
  "scroll width 390 of 390, sticking out 0, cards that do not fold 0, nor unfold 0, fetched 0") ;;
    *) echo "does not fit 390 px, has a card that does not fold, or fetched something"; exit 1;;
  esac
  look --no-pdf-header-footer --print-to-pdf=sheet.pdf "file://$folder/sheet.html" >/dev/null
  [ -s sheet.pdf ] || { echo "no page of paper"; exit 1; }
done
if grep -i 'CONSOLE' console.log; then echo "the console has something to say"; exit 1; fi
