"""What a person is asked about a machine of theirs: another form, and the sheet that it fills.

What is likely and what can be is the word of `machine.parse_machine` and of `likely`; here is only
how it is found out at the machine, and the sums that tie the answers together.
"""
