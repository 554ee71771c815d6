"""The trade: kinds of operation and kinds of joint, each a module of its own and a line in a table."""
