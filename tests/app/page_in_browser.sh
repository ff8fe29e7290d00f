#!/bin/sh
# The page of a ride in a real browser: page_in_browser.sh PROGRAM FOLDER SCENARIO. Skipped (77) where there is no Chromium.
# No console message, nothing fetched, nothing sticking out at 390, 820 and 1400 px; the slider, a rider and the what-ifs
# change the numbers; what is shown at a moment is what the trace holds; without scripts road, plan and results are there.
set -eu
program=$1 folder=$2 scenario=$3 here=$(cd "$(dirname "$0")" && pwd)
browser=$(command -v chromium || true)
[ -n "$browser" ] || { echo "no chromium here"; exit 77; }
rm -rf "$folder" && mkdir -p "$folder" && cd "$folder"

look() {  # no way out to any host
  timeout 120 "$browser" --headless --no-sandbox --hide-scrollbars --disable-gpu --user-data-dir="$folder/profile" --allow-file-access-from-files \
    --host-resolver-rules='MAP * ~NOTFOUND' --enable-logging=stderr --v=0 "$@" 2>>console.log
}

"$program" page "$scenario" --quiet -o ride.html
[ "$(wc -c <ride.html)" -le 2000000 ] || { echo "more than 2 MB"; exit 1; }

cat >frame.html <<'PAGE'
<!DOCTYPE html><meta charset="utf-8"><iframe id="frame" src="ride.html" style="height:900px;border:0"></iframe><pre id="said"></pre><script>
frame.onload = () => { const w = frame.contentWindow, page = frame.contentDocument, said = [], text = id => page.getElementById(id).textContent;
  for (const width of [390, 820, 1400]) { frame.style.width = width + 'px'; page.body.offsetWidth; w.dispatchEvent(new Event('resize'));
    const wide = [...page.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > width + 1);
    if (wide.length) said.push('wide at ' + width + ': ' + wide.slice(0, 4).map(e => e.tagName + '.' + e.id + e.className).join(' '));
    said.push(width + ': ' + (page.documentElement.scrollWidth <= width && wide.length === 0 ? 'fits' : 'sticks out')); }
  const slider = page.getElementById('time'), moved = [text('number')];
  slider.value = Math.round(slider.max / 3); slider.dispatchEvent(new Event('input'));
  moved.push(text('number'));
  page.querySelectorAll('#riders button')[1].click(); moved.push(text('number'));
  const outcome = [text('outcome')];
  for (const [name, value] of [['wind', 2], ['company', 0]]) {
    page.querySelector(`input[name=${name}][value="${value}"]`).click(); outcome.push(text('outcome')); }
  said.push('slider ' + (moved[1] !== moved[0]), 'rider ' + (moved[2] !== moved[1]), 'what-ifs ' + new Set(outcome).size,
    'fetched ' + w.performance.getEntriesByType('resource').length);
  const { viewAt, rideOf } = w.leewheel, view = viewAt(rideOf(1, 1), 300);
  const sums = view.riders.every(r => r.now + r.saved === r.alone);
  page.getElementById('play').click();
  setTimeout(() => { said.push('sums ' + sums, 'plays ' + (text('play') === 'Pause' && text('clock') !== '0:00:00'));
    said.push('numbers ' + JSON.stringify(view.riders.map(r => [r.name, r.distance_m, r.power_W, r.saved_W, r.wbal, r.group])));
    document.getElementById('said').textContent = said.join('\n'); }, 500); };
</script>
PAGE
look --virtual-time-budget=6000 --window-size=1500,1000 --dump-dom "file://$folder/frame.html" >frame.dom
sed -n '/<pre id="said">/,/<\/pre>/p' frame.dom | sed 's/.*<pre id="said">//; s/<\/pre>.*//' >said.txt
cat said.txt
for wanted in "390: fits" "820: fits" "1400: fits" "slider true" "rider true" "what-ifs 3" "fetched 0" "sums true" "plays true"; do
  grep -qxF "$wanted" said.txt || { echo "expected: $wanted"; exit 1; }
done
for size in 390,844 820,1180 1400,900; do
  look --virtual-time-budget=2000 --window-size=$size --screenshot="page_${size%,*}.png" "file://$folder/ride.html#t=600" >/dev/null
  [ -s "page_${size%,*}.png" ] || { echo "no picture at $size"; exit 1; }
done
sed 's/<script.*//' ride.html | grep -q '<svg' || { echo "no road without scripts"; exit 1; }
if grep -i 'CONSOLE' console.log; then echo "the console has something to say"; exit 1; fi
if python3 -c 'import h5py' 2>/dev/null; then
  "$program" ride "$scenario" --one --quiet -o ridden
  python3 "$here/page_agrees.py" said.txt ridden/trace.h5 300
fi
