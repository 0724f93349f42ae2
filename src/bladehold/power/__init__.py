"""From battery to shaft: motor, speed controller, wiring, battery, and what they allow."""
