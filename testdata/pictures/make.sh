#!/usr/bin/env bash
# Makes the README's pictures: the real program in a real terminal (tmux, 80x24) on a copy of
# the demo boat, with the walk of the story that the tests tell. Needs go and tmux.
set -euo pipefail
cd "$(dirname "$0")/../.."

work=$(mktemp -d)
screen() { tmux -L "hoveshort-pictures" "$@"; }
trap 'screen kill-server 2>/dev/null || true; rm -rf "$work"' EXIT

go build -o "$work/hoveshort" ./cmd/hoveshort
go build -o "$work/pictures" ./testdata/pictures
export PATH="$work:$PATH" HOVESHORT_BOAT="$work/heron" COLORTERM=truecolor LANG=C.UTF-8 XDG_STATE_HOME="$work/state"
at=2026-10-18T17:30+13:00
hoveshort init --demo "$HOVESHORT_BOAT" >/dev/null 2>&1

# What makes the demo boat ready in the stories makes her ready here.
cp -r cmd/hoveshort/testdata/ready/. "$work"

picture() { # name keys…: open the program, press the keys, keep the screen
  local name=$1
  shift
  rm -rf "$XDG_STATE_HOME" # a theme that a picture chose is not the next one's
  screen -f /dev/null new-session -d -s "$name" -x 80 -y 24 "hoveshort --at $at"
  sleep 1
  for key in "$@"; do
    screen send-keys -t "$name" "$key"
    sleep 0.5
  done
  screen capture-pane -epN -t "$name" | pictures >"testdata/pictures/$name.svg"
  screen kill-session -t "$name"
}

picture ready
picture passage 2
picture left 2 Right
picture whatif 2 Right Right
picture gear 6
picture stores 3
picture find / i m p e
picture night T
picture refused 7 s
picture round 4 Enter y
picture taking 3 Right Right Enter 3 Enter 1 Enter 6 Enter

sh -e "$work/tanks.sh" $at >/dev/null
hoveshort --at $at fill port water full >/dev/null
hoveshort --at $at fill starboard water full >/dev/null
cp "$work/mended/spares.toml" "$work/mended/dated.toml" "$HOVESHORT_BOAT"
sh -e "$work/answers.sh" $at >/dev/null
hoveshort --at $at accept "service:look at exchanger anode" parts aboard, at anchor on Minerva >/dev/null
hoveshort --at $at accept daylight:Opua a lit harbour, and we can wait outside >/dev/null
hoveshort --at $at accept "daylight:North Minerva Reef" slow down and stand off for the night >/dev/null
hoveshort --at $at sign --yes Mara Testskipper >/dev/null
picture signed 7 Enter

# Away, and a noon.
(cd "$work" && sh -e weigh.sh 2026-10-19T06:50+13:00 >/dev/null)
hoveshort --at 2026-10-19T06:55+13:00 depart >/dev/null
hoveshort --at 2026-10-20T12:00+13:00 noon 120 nm port water=92 % starboard water=same main diesel=80 % after diesel=same diesel jerry can=same hours=1820 "wind=18 kn NE" sleep=6 >/dev/null
at=2026-10-20T12:30+13:00
picture noon 7
picture fact 2 Right Down

# A fortnight of readings as usual, and one that is not.
export HOVESHORT_BOAT="$work/other"
hoveshort init --demo "$HOVESHORT_BOAT" >/dev/null 2>&1
for day in 04 05 06 07 08 10 11 13 14 15; do
  hoveshort --at 2026-10-${day}T10:00+13:00 reading rpm=2000 coolant=81C minutes=20 sea=22C raw_out=45C speed=5.5kn sails=down >/dev/null
done
at=2026-10-18T17:30+13:00
hoveshort --at 2026-10-18T15:00+13:00 reading rpm=2000 coolant=85C minutes=20 sea=22C raw_out=50C speed=5.5kn sails=down water=little >/dev/null
picture engine 5

# What is wrong becomes a defect with its fault card.
hoveshort --at 2026-10-18T15:05+13:00 defect runs warm, little water --grade stop --card "coolant a little high" >/dev/null
picture defect 5 Right Right Enter
