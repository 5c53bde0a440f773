"""The guide: one consultation all through, and what goes wrong with how to mend it, as data for pages and files."""

from service.api.docs.guide.mistakes import mistakes
from service.api.docs.guide.models import ADDRESS, GuideStep, Message, Mistake, Snippet
from service.api.docs.guide.steps import guide

__all__ = ["ADDRESS", "GuideStep", "Message", "Mistake", "Snippet", "guide", "mistakes"]
