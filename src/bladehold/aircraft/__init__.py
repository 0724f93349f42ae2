"""The aircraft as a whole: where its rotors stand, how it is balanced, what flying asks of each rotor."""
