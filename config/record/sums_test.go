package record

// Sums that were worked out without this program: SHA-256 of Python's hashlib over the bytes as the design says.
const (
	firstSum    = "65d72fbef0968d15e9a00e2d38855958b015d95852e9ee23de26259706eed00e"
	secondSum   = "68083acce58cdbe357e0321f26e4a812ae8ea828ca1e2fdc8fb99031a3c9fdff"
	fixtureLast = "93f43b3d33d5bdbf39b9ad4d9ef6dc6e7359dd40bd5a13ec5ae92ac94e11a7f0"
)
