"""The parts a screen is made of, one to a file. Each shows what it is given and says what was done to it."""
