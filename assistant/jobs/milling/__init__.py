"""What milling jobs share: cutter and holding, touching and centring, passes along the work."""
