"""What there is to calculate: one module of plain data per topic, gathered by `calc.catalogue`."""
