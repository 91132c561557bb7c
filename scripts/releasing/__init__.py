"""What `scripts/release` is made of: building, looking into what was built, and trying it."""
