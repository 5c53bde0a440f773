"""Every sentence for people, made in one place of a code and language-neutral values: data/messages has the words."""

from service.messages.catalogue import Message, from_facts, message, text_of

__all__ = ["Message", "from_facts", "message", "text_of"]
