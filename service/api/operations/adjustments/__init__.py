"""The main job: ranked adjusted prescriptions for a sore region."""
