"""What lathe jobs share: checks, speed and feed, and cutting to a diameter by the cross slide."""
