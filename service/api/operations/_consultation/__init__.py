"""What consultations of one lift and of a whole week share: what comes before any option, and a lift as a case to search."""
