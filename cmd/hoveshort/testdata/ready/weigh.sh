# The walk once more, and the round before weighing: weigh.sh TIME
set -e
sh -e answers.sh $1
hoveshort --at $1 check exhaust-again right
hoveshort --at $1 check helm-free right
hoveshort --at $1 check way-out right
hoveshort --at $1 check cable-short right
hoveshort --at $1 check lines-aboard right
