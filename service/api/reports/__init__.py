"""Reports for people: what those of several operations share, and how a report is written as a page or as Markdown."""
