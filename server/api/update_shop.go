package api

import (
	"context"
	"strings"
	"time"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// UpdateShop changes the shop's settings.
func (s *Server) UpdateShop(ctx context.Context, req *pb.UpdateShopRequest) (*pb.UpdateShopResponse, error) {
	if problems := checkSettings(req.GetShop()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	settings, err := s.book.UpdateShop(ctx, req.GetShopId(), req.GetShop())
	if err != nil {
		return nil, err
	}
	return &pb.UpdateShopResponse{Shop: settings}, nil
}

// checkSettings holds settings to the limits of what they stand in for: the use
// of a vehicle and the gauges of a visit.
func checkSettings(shop *pb.Shop) []check.Problem {
	if shop == nil {
		return []check.Problem{{Path: "shop", Problem: "missing", Want: "all settings, with the revision that was read"}}
	}
	var problems []check.Problem
	// Local is whatever the machine is set to.
	if _, err := time.LoadLocation(shop.GetTimeZone()); err != nil || shop.GetTimeZone() == "Local" {
		problems = append(problems, check.Problem{Path: "shop.timeZone", Given: shop.GetTimeZone(), Problem: "no such time zone", Want: "an IANA name such as America/Denver"})
	}
	use := check.Vehicle("shop", &pb.Vehicle{Use: &pb.VehicleUse{Country: shop.GetCountry(), State: shop.GetState()}})
	for _, p := range use {
		p.Path = strings.Replace(p.Path, "shop.use.", "shop.", 1)
		problems = append(problems, p)
	}
	visit := &pb.Inspection{Gauges: shop.GetGauges(), Spare: &pb.SpareReport{}} // something to judge
	problems = append(problems, check.Inspection("shop", visit, nil)...)
	rest := proto.CloneOf(shop)
	rest.Gauges, rest.Country, rest.State = nil, "", ""
	return append(problems, check.Shop("shop", rest)...)
}
