"""Every sentence for people, made in one place of a code and language-neutral values: data/messages has the words."""

from service.messages.catalogue import Message, from_facts, message, ready_message, spoken, text_of
from service.messages.language import speaking, spoken_language

__all__ = ["Message", "from_facts", "message", "ready_message", "speaking", "spoken", "spoken_language", "text_of"]
