"""The aircraft as a whole: where its rotors stand, what holds it in balance, what flying asks of each rotor."""
