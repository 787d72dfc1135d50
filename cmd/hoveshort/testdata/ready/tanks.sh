hoveshort --at $1 sound port water 62 %
hoveshort --at $1 sound starboard water 230 mm
hoveshort --at $1 sound main diesel 92%
hoveshort --at $1 sound after diesel 140 L
hoveshort --at $1 sound "diesel jerry can" "20 L"
hoveshort --at $1 sound gas bottle in use 1.5 kg
hoveshort --at $1 sound gas bottle in the locker full
