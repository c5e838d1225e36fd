"""The commands, one module each: `add_arguments(parser)` and `run(arguments) -> exit code`.

May import anything below; only the module of the command given is ever loaded.
"""
