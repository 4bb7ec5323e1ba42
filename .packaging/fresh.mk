# README's commands on a machine that has never seen the project. FRESH_QUICK=1 leaves `make test` out, FRESH=folder says
# where its roots go (2 GB for a while).
.PHONY: fresh

fresh:
	@BUILD='$(BUILD)' FRESH='$(FRESH)' FRESH_QUICK='$(FRESH_QUICK)' sh .packaging/fresh.sh
