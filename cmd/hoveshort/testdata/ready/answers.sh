hoveshort --at $1 check strainer right
hoveshort --at $1 check raw-seacock right
hoveshort --at $1 check engine-oil right --say "upper mark"
hoveshort --at $1 check coolant-cold right
hoveshort --at $1 check start-battery 12.7 V
hoveshort --at $1 check belts-hoses right
hoveshort --at $1 check fuel-bowl right
hoveshort --at $1 check engine-space right
hoveshort --at $1 check --done Before departure Engine space, cold
hoveshort --at $1 check exhaust-water right --say "spits every second"
hoveshort --at $1 check oil-pressure 1.4 bar
hoveshort --at $1 check coolant-warm 81C
hoveshort --at $1 check co-alarm right
hoveshort --at $1 check gear-both-ways right
hoveshort --at $1 check charge-volts "14.1 V"
hoveshort --at $1 check bilge-level 3
hoveshort --at $1 check bilge-pump-electric right
hoveshort --at $1 check steering-below right
hoveshort --at $1 check bilge-pump-manual right
hoveshort --at $1 check seacocks-plugs right
hoveshort --at $1 check shaft-seal right
hoveshort --at $1 check hatches right
hoveshort --at $1 check anchor-ready right
hoveshort --at $1 check jacklines right
hoveshort --at $1 check standing-rig right
hoveshort --at $1 check reefing right
hoveshort --at $1 check nav-lights right
hoveshort --at $1 check charts right
hoveshort --at $1 check compass-position right
hoveshort --at $1 check self-steering right
hoveshort --at $1 check lifejackets right
hoveshort --at $1 check tether right
hoveshort --at $1 check fire right
hoveshort --at $1 check epirb right
hoveshort --at $1 check liferaft right
hoveshort --at $1 check medical right
hoveshort --at $1 check lpg right
hoveshort --at $1 check heavy-stow right
hoveshort --at $1 check tools-reach right
hoveshort --at $1 check warnings right
hoveshort --at $1 check route-refuge right
hoveshort --at $1 check vhf right --say "the neighbour boat"
hoveshort --at $1 check forecast 18 kn
hoveshort --at $1 check barometer -1 hPa
hoveshort --at $1 check shore-contact right --say "the neighbour boat"
hoveshort --at $1 check skipper-rest 11 h
