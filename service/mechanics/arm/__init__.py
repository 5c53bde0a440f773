"""The arm under a load, in three dimensions and at rest: moments at shoulder, elbow and wrist."""
