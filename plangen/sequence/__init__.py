"""The order of work: drafted from the joints, or written by the maker and checked."""
