from herd.cli import main

main()
