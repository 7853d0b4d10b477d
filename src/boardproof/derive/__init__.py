"""Arguments that the tool writes: routes that teachers use, each step proved like a typed one."""
