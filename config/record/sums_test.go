package record

// Sums that were worked out without this program: SHA-256 of Python's hashlib over the bytes as the design says.
const (
	firstSum    = "65d72fbef0968d15e9a00e2d38855958b015d95852e9ee23de26259706eed00e"
	secondSum   = "68083acce58cdbe357e0321f26e4a812ae8ea828ca1e2fdc8fb99031a3c9fdff"
	fixtureLast = "10b5dcc5544444c4796c3f30e7dcd5baeda977df49b6af2c1939e2edfa181ff9"
	defectsLast = "3767f85ad707cb7b9f4151bac733dc554ca369cb10eca7f9d109ed391c6a76e8"
	voyageLast  = "5f05876f3823c0861c84de9d65b03491cb883cdf8c4a9fb7410e1e5ec55de19d"
	storesLast  = "4cce702e13cd6aef3995a4c64b4d7e057d6bf151e6103690a43e439d2c3b8db5"
	gearLast    = "92c67d9db304ae22490b0ea3dc391f943be519777c6004cd3b0a9f530e743387"
)
