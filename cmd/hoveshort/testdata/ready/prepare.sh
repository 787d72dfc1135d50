# Makes a copy of the demo boat ready and signs her off: prepare.sh TIME
set -e
hoveshort init --demo heron
sh -e tanks.sh $1
hoveshort --at $1 fill port water full
hoveshort --at $1 fill starboard water full
cp mended/spares.toml heron/spares.toml
cp mended/dated.toml heron/dated.toml
sh -e answers.sh $1
hoveshort --at $1 accept service:look at exchanger anode parts aboard
hoveshort --at $1 accept daylight:Opua "a lit harbour"
hoveshort --at $1 accept "daylight:North Minerva Reef" "stand off for the night"
hoveshort --at $1 --by Mara sign --yes Mara Testskipper
