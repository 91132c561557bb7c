"""The typefaces that are shipped: B612, under the SIL Open Font License (OFL.txt)."""
