"""Alterations: slash and spread, fold out, dart transfer, trueing, replay."""
