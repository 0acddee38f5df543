package gateway

import (
	"strings"
	"testing"
)

// TestPublishRefuses gives documents that do not fit the contract.
func TestPublishRefuses(t *testing.T) {
	operation := func(id, parameters string) string {
		return `{"swagger":"2.0","info":{"title":"t","version":"1"},"paths":{"/x":{"get":{"operationId":"` + id +
			`","parameters":[` + parameters + `],"responses":{"200":{"description":"d"}}}}}}`
	}
	tests := []struct{ name, document, want string }{
		{"no JSON", `{`, "unexpected end"},
		{"service gone", operation("WeatherService_GetWeather", ""), "gaugebook.v1.WeatherService.GetWeather"},
		{"call gone", operation("ShopService_CloseShop", ""), "gaugebook.v1.ShopService.CloseShop"},
		{"no call named", operation("ShopService", ""), "gaugebook.v1.ShopService."},
		{"a message", operation("Shop_id", ""), "not a call"},
		{"field gone", operation("ShopService_GetShop", `{"name":"shop","in":"path","required":true,"type":"string"}`), `no field "shop"`},
		{"no text in the path", operation("ShopService_ListComingDue", `{"name":"pageSize","in":"path","required":true,"type":"integer"}`), `"pageSize" stands in the path`},
		{"text of another message in the path", operation("ShopService_UpdateShop", `{"name":"shop.timeZone","in":"path","required":true,"type":"string"}`), `"shop.timeZone" stands in the path`},
		{"in a header", operation("ShopService_GetShop", `{"name":"shopId","in":"header","type":"string"}`), `"shopId" stands in the header`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if _, err := publish([]byte(test.document)); err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got %v, want %q", err, test.want)
			}
		})
	}
	if _, err := publish(swagger); err != nil {
		t.Error(err)
	}
}
