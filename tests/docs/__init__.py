"""The reference of the language: written from the models, pictured from its examples."""
