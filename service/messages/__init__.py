"""Every sentence for people, made in one place of a code and language-neutral values: data/messages has the words."""

from service.messages.catalogue import Message, message, text_of

__all__ = ["Message", "message", "text_of"]
